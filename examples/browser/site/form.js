// The form: rows that come and go, what a length is read as, and what is wrong where.
const $ = (id) => document.getElementById(id);

let names = 0;
let hooks; // { read, edited, solve }: see start

// start fills the form in. read(text) says how a length is understood, edited is called
// after every change, solve where a change is at once to be worked out.
export function start(first, h) {
  hooks = h;
  for (const kind of ["piece", "stick"]) {
    for (const values of first[kind + "s"]) addRow(kind, values);
    $(kind + "s").querySelector(".add").addEventListener("click", () => {
      addRow(kind).querySelector("input").focus();
      hooks.edited();
    });
  }
  $("job").addEventListener("input", ({ target }) => {
    if (isLength(target)) understand(target);
    hooks.edited();
  });
}

function isLength(input) { return input.hasAttribute("data-length"); }

// Rows

function addRow(kind, values = {}) {
  const row = $(kind + "-row").content.cloneNode(true).querySelector("li");
  for (const input of row.querySelectorAll("input")) {
    input.id = "f" + ++names;
    input.value = values[input.dataset.field] ?? "";
    input.previousElementSibling.htmlFor = input.id;
    const says = input.nextElementSibling;
    if (says) {
      says.id = input.id + "-says";
      input.setAttribute("aria-describedby", says.id);
    }
  }
  row.querySelector(".remove").addEventListener("click", () => {
    const list = row.parentElement, next = row.nextElementSibling ?? row.previousElementSibling;
    row.remove();
    nameRows(kind, list);
    (next?.querySelector("input") ?? list.parentElement.querySelector(".add")).focus();
    hooks.edited();
  });
  const list = $(kind + "s").querySelector(".rows");
  list.append(row);
  nameRows(kind, list);
  return row;
}

// Who hears the page instead of seeing it is told which row a field is in.
function nameRows(kind, list) {
  [...list.children].forEach((row, i) => {
    row.querySelectorAll("input").forEach((input) => {
      input.setAttribute("aria-label", `${kind} ${i + 1}: ${input.previousElementSibling.textContent}`);
    });
    row.querySelector(".remove").setAttribute("aria-label", `Remove ${kind} ${i + 1}`);
  });
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
  document.querySelectorAll("#job [data-length]").forEach(understand);
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

export function clearFaults() { document.querySelectorAll("#job input").forEach(clear); }

function fieldOf(path) {
  const m = /^(pieces|sticks)\[(\d+)\]\.(\w+)$/.exec(path);
  if (m) return $(m[1]).querySelectorAll(".row")[m[2]]?.querySelector(`[data-field="${m[3]}"]`);
  return path === "kerf" ? $("kerf") : null;
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
      understand(input);
      hooks.edited();
      hooks.solve();
    });
    line.append(b);
  }
  if (fault.choices) box.append(line);
  const says = $(input.id + "-says");
  if (says) says.textContent = "";
  // The keyboard goes from the field to the choices; the eye finds them below the row.
  if (input.closest(".row")) input.parentElement.after(box);
  else input.parentElement.append(box);
  input.setAttribute("aria-invalid", "true");
  input.setAttribute("aria-describedby", box.id);
  return input;
}

// showFaults puts each fault at its field, the keyboard into the first, and returns
// what is to be said of the whole.
export function showFaults(faults) {
  const inputs = faults.map(showFault);
  const whole = faults.filter((_, i) => !inputs[i]).map((f) => f.message);
  const n = inputs.filter(Boolean).length;
  if (n > 0) whole.push(n === 1 ? "One field needs another look." : `${n} fields need another look.`);
  inputs.find(Boolean)?.focus();
  return whole.join(" ");
}

// What is filled in

// values returns the form by its rows, as the solver takes it.
export function values() {
  const rows = (id) => [...$(id).querySelectorAll(".row")].map((row) =>
    Object.fromEntries([...row.querySelectorAll("input")].map((i) => [i.dataset.field, i.value])));
  return { title: $("title").value, kerf: $("kerf").value, pieces: rows("pieces"), sticks: rows("sticks") };
}

// job returns the form as text that is the same for the same job: a row that is empty
// is none.
export function job() {
  const v = values();
  for (const id of ["pieces", "sticks"]) {
    v[id] = v[id].filter((row) => Object.values(row).some((text) => text.trim() !== ""));
  }
  return JSON.stringify(v);
}
