// The form: rows that come and go, what a length is read as, and what is wrong where.
const $ = (id) => document.getElementById(id);
const kinds = ["pieces", "sticks", "runs"];
const nouns = { pieces: "piece", sticks: "stick", runs: "run" };
const controls = "input[data-field], select[data-field]";

// The page holds this many rows of a kind, as the solver does that reads lists and files.
export const most = 1000;

let names = 0;
let hooks; // { read, edited, solve }: see start

// start makes the form ready. read(text) says how a length is understood, edited is called
// after every change, solve where a change is at once to be worked out.
export function start(h) {
  hooks = h;
  for (const kind of kinds) {
    $(kind).querySelector(".add").addEventListener("click", () => {
      if (rows(kind).length >= most) return;
      add(kind, [{}])[0].querySelector("input").focus();
      hooks.edited();
    });
    $(kind).querySelector(".rows").addEventListener("click", ({ target }) => {
      if (target.closest(".remove")) remove(kind, target.closest(".row"));
    });
  }
  for (const cell of $("rules").querySelectorAll(".cell")) wire(cell, "");
  $("job").addEventListener("click", ({ target }) => {
    const also = target.closest(".also");
    if (!also || target.tagName !== "BUTTON") return;
    (also.closest(".further, .fold").querySelector("summary")).focus();
    setMore(also, "");
    hooks.edited();
  });
  $("job").addEventListener("input", ({ target }) => {
    if (target.closest("#paste") || target.type === "file") return;
    if (isLength(target)) understand(target);
    else clear(target);
    brief(target.closest("details.further, details.fold"));
    hooks.edited();
  });
}

function isLength(input) { return input.hasAttribute("data-length"); }

// Rows

function rows(kind) { return $(kind).querySelector(".rows").children; }

// wire ties label, control and what is said of it together. before is put before the name
// that a control is heard by.
function wire(cell, before) {
  const input = cell.querySelector("input, select"), label = cell.querySelector("label"), says = cell.querySelector(".says");
  input.id ||= "f" + ++names;
  label.htmlFor = input.id;
  if (before) input.dataset.before = before;
  if (says) {
    says.id = input.id + "-says";
    input.setAttribute("aria-describedby", says.id);
  }
}

function make(kind, values) {
  const row = $(kind + "-row").content.cloneNode(true).querySelector("li");
  const ends = row.querySelector(".ends");
  if (ends) {
    for (const side of ["left", "right"]) {
      const end = document.createElement("div");
      end.className = "fields end";
      end.append($("end-fields").content.cloneNode(true));
      end.querySelector("label").textContent = side + " end";
      for (const cell of end.children) {
        const input = cell.querySelector("input, select");
        input.dataset.field = side + "_" + input.dataset.field;
        wire(cell, input.tagName === "SELECT" ? " " : side + " end, ");
      }
      ends.append(end);
    }
  }
  for (const cell of row.querySelectorAll(".cell")) {
    if (!cell.closest(".end")) wire(cell, "");
  }
  for (const input of row.querySelectorAll(controls)) put(input, values[input.dataset.field]);
  setMore(row.querySelector(".also"), values.more);
  return row;
}

function put(input, text) {
  if (typeof text !== "string") text = "";
  if (input.type === "checkbox") input.checked = text !== "";
  else input.value = text;
  if (input.tagName === "SELECT" && input.selectedIndex < 0) input.value = "";
}

// add makes rows of values, after a row or at the end.
function add(kind, all, after) {
  const made = all.map((values) => make(kind, values));
  if (after) after.after(...made);
  else $(kind).querySelector(".rows").append(...made);
  nameRows(kind);
  for (const row of made) brief(row.querySelector("details.further"));
  return made;
}

function remove(kind, row) {
  const next = row.nextElementSibling ?? row.previousElementSibling;
  row.remove();
  nameRows(kind);
  (next?.querySelector("input") ?? $(kind).querySelector(".add")).focus();
  hooks.edited();
}

// Who hears the page instead of seeing it is told which row a field is in.
function nameRows(kind) {
  [...rows(kind)].forEach((row, i) => {
    const name = `${nouns[kind]} ${i + 1}`;
    if (row.dataset.name === name) return;
    row.dataset.name = name;
    for (const input of row.querySelectorAll(controls)) {
      input.setAttribute("aria-label", `${name}: ${(input.dataset.before ?? "").trimStart()}${label(input)}`);
    }
    row.querySelector(".remove").setAttribute("aria-label", "Remove " + name);
    row.querySelector(".also button").setAttribute("aria-label", `Leave out what the file says of ${name}`);
    hear(row.querySelector("details.further"));
  });
  if (kind === "runs") brief($("runs"));
}

function hear(details) {
  const row = details.closest(".row");
  if (!row) return;
  const said = [row.dataset.name + ": " + details.querySelector(".of").textContent, details.querySelector(".brief").textContent];
  details.querySelector("summary").setAttribute("aria-label", said.filter(Boolean).join(": "));
}

function label(input) { return input.parentElement.querySelector("label").textContent; }

// brief says beside what is folded away what stands in it.
function brief(details) {
  if (!details) return;
  let said = [];
  if (details.id === "runs") said = [...rows("runs")].map((row) => row.querySelector("[data-field=label]").value.trim() || row.querySelector("[data-field=length]").value.trim()).filter(Boolean);
  else {
    for (const input of details.querySelectorAll(controls)) {
      const text = input.type === "checkbox" ? (input.checked ? "yes" : "") : input.value.trim();
      if (text) said.push(input.type === "checkbox" ? label(input).toLowerCase() : `${(input.dataset.before ?? "").trim()} ${label(input)} ${text}`.trim().toLowerCase());
    }
    if (details.querySelector(".also")?.dataset.more) said.push("more from the file");
  }
  details.querySelector(".brief").textContent = said.join("; ");
  hear(details);
  const outer = details.parentElement.closest("details.fold");
  if (outer) brief(outer);
}

// setMore keeps what a file says and no field shows.
function setMore(also, text) {
  let names = "";
  try {
    const more = JSON.parse(text);
    if (typeof more === "object" && more !== null && !Array.isArray(more)) names = Object.keys(more).join(", ").replaceAll("_", " ");
  } catch { /* then it is nothing */ }
  if (!names) text = "";
  also.hidden = !text;
  also.dataset.more = text;
  also.querySelector("span").textContent = text ? `The file says more, which goes along: ${names}.` : "";
  brief(also.closest("details.further, details.fold"));
}

// Lengths

// understand shows how a length is read, where that looks different.
async function understand(input) {
  clear(input);
  const text = input.value, says = $(input.id + "-says");
  const read = text.trim() === "" ? "" : await hooks.read(text);
  if (read !== null && input.value === text && !input.hasAttribute("aria-invalid")) {
    says.textContent = read === "" || read === text.trim() ? "" : "= " + read;
  }
}

export function understandAll() {
  document.querySelectorAll("#job [data-length]").forEach((input) => {
    if (input.value || $(input.id + "-says").textContent) understand(input);
  });
}

// Faults

function clear(input) {
  input.removeAttribute("aria-invalid");
  const fault = $(input.id + "-fault");
  if (fault) {
    fault.remove();
    const says = $(input.id + "-says");
    if (says) input.setAttribute("aria-describedby", says.id);
    else input.removeAttribute("aria-describedby");
  }
}

export function clearFaults() { document.querySelectorAll("#job [aria-invalid]").forEach(clear); }

function fieldOf(path) {
  const m = /^(pieces|sticks|runs)\[(\d+)\]\.(\w+)$/.exec(path);
  if (m) return rows(m[1])[m[2]]?.querySelector(`[data-field="${m[3]}"]`);
  return /^(kerf|min_remnant|rules\.\w+)$/.test(path) ? $(path) : null;
}

function showFault(fault) {
  const input = fieldOf(fault.field);
  if (!input) return null;
  clear(input);
  const box = document.createElement("div");
  box.className = "fault";
  box.id = input.id + "-fault";
  box.append(fault.message);
  const line = document.createElement("div");
  for (const choice of fault.choices ?? []) {
    const b = document.createElement("button");
    b.type = "button";
    b.textContent = choice;
    b.setAttribute("aria-label", "Take " + choice);
    b.addEventListener("click", () => {
      input.value = choice;
      input.focus();
      if (isLength(input)) understand(input);
      else clear(input);
      hooks.edited();
      hooks.solve();
    });
    line.append(b);
  }
  if (fault.choices) box.append(line);
  const says = $(input.id + "-says");
  if (says) says.textContent = "";
  // The keyboard goes from the field to the choices; the eye finds them below the row.
  if (input.closest(".row, .fields")) input.parentElement.after(box);
  else input.parentElement.append(box);
  input.setAttribute("aria-invalid", "true");
  input.setAttribute("aria-describedby", box.id);
  for (let d = input.closest("details"); d; d = d.parentElement.closest("details")) d.open = true;
  return input;
}

// showFaults puts each fault at its field, the keyboard into the first, and returns
// what is to be said of the whole.
export function showFaults(faults) {
  const inputs = faults.map(showFault);
  const whole = faults.filter((_, i) => !inputs[i]).map((f) => f.message);
  const n = new Set(inputs.filter(Boolean)).size;
  if (n > 0) whole.push(n === 1 ? "One field needs another look." : `${n} fields need another look.`);
  const all = [...document.querySelectorAll("#job [aria-invalid]")];
  all[0]?.focus();
  return whole.join(" ");
}

// What is filled in

function read(fields) {
  return Object.fromEntries([...fields].map((i) => [i.dataset.field, i.type === "checkbox" ? (i.checked ? "yes" : "") : i.value]));
}

// values returns the form by its rows, as the solver takes it.
export function values() {
  const v = { title: $("title").value, kerf: $("kerf").value };
  for (const kind of kinds) {
    v[kind] = [...rows(kind)].map((row) => ({ ...read(row.querySelectorAll(controls)), more: row.querySelector(".also").dataset.more }));
  }
  const { min_remnant, ...rules } = read($("rules").querySelectorAll(controls));
  return { ...v, min_remnant, rules, more: $("more").dataset.more };
}

// filled returns the values without the rows in which nothing stands. What is chosen from a
// list alone makes no row.
export function filled(v) {
  v = { ...v };
  for (const kind of kinds) {
    v[kind] = v[kind].filter((row) => Object.entries(row).some(([name, text]) => text.trim() !== "" && !/_kind$|^symmetry$/.test(name)));
  }
  return v;
}

// job returns the form as text that is the same for the same job.
export function job() { return JSON.stringify(filled(values())); }

// fill puts values in the place of all that stands in the form. It takes no more of them
// than it knows and is text.
export function fill(v) {
  clearFaults();
  const text = (x) => typeof x === "string" ? x : "";
  $("title").value = text(v?.title);
  $("kerf").value = text(v?.kerf);
  for (const kind of kinds) {
    $(kind).querySelector(".rows").replaceChildren();
    let all = (Array.isArray(v?.[kind]) ? v[kind] : []).slice(0, most).map((row) => row ?? {});
    if (all.length === 0 && kind !== "runs") all = [{}];
    add(kind, all);
  }
  for (const input of $("rules").querySelectorAll(controls)) {
    put(input, input.dataset.field === "min_remnant" ? v?.min_remnant : v?.rules?.[input.dataset.field]);
  }
  setMore($("more"), text(v?.more));
  $("runs").open = rows("runs").length > 0;
  brief($("rules"));
  understandAll();
}

// insert puts pieces after the row of a field, or in its place where nothing stands in that
// row, and returns the first; nothing where there would be too many.
export function insert(pieces, field) {
  const empty = (row) => filled({ pieces: [{ ...read(row.querySelectorAll(controls)), more: row.querySelector(".also").dataset.more }], sticks: [], runs: [] }).pieces.length === 0;
  const last = field ? field.closest(".row") : rows("pieces")[rows("pieces").length - 1];
  const over = last && empty(last);
  if (rows("pieces").length - (over ? 1 : 0) + pieces.length > most) return null;
  const made = add("pieces", pieces, last);
  if (over) {
    last.remove();
    nameRows("pieces");
  }
  for (const row of made) understand(row.querySelector("[data-length]"));
  return made[0];
}
