// The form, the worker that holds the library, and the sheet that comes back.
const $ = (id) => document.getElementById(id);

const first = {
  pieces: [
    { label: "north wall, left", length: "12' 1-3/8\"", quantity: "" },
    { label: "beside the stove", length: "7' 4-3/4\"", quantity: "" },
    { label: "under the windows", length: "41 1/2", quantity: "2" },
  ],
  sticks: [
    { length: "12 ft", price: "19.08", limit: "" },
    { length: "16 ft", price: "26.08", limit: "" },
  ],
};

// Each call to the worker waits for the answer of its number.
let worker, calls = new Map(), number = 0;
function start() {
  worker = new Worker("worker.js");
  worker.onmessage = ({ data }) => {
    if (data.ready) {
      $("solve").disabled = false;
      document.querySelectorAll("[data-length], #kerf").forEach(understand);
      solve();
    } else if (data.failed) {
      state("failed", "The solver could not be started: " + data.failed);
    } else {
      calls.get(data.id)(data.text);
      calls.delete(data.id);
    }
  };
  worker.onerror = () => state("failed", "The solver could not be started.");
}
function call(kind, text) {
  return new Promise((resolve) => {
    calls.set(++number, resolve);
    worker.postMessage({ id: number, kind, text });
  });
}

function state(name, text) {
  $("result").dataset.state = name;
  $("status").textContent = text;
}

// Rows

let names = 0;
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
      input.addEventListener("input", () => understand(input));
    }
  }
  row.querySelector(".remove").addEventListener("click", () => {
    const list = row.parentElement, next = row.nextElementSibling ?? row.previousElementSibling;
    row.remove();
    nameRows(kind, list);
    (next?.querySelector("input") ?? list.parentElement.querySelector(".add")).focus();
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

// understand shows how a length is read, where that looks different.
async function understand(input) {
  clear(input);
  const text = input.value, says = $(input.id + "-says");
  const read = text.trim() === "" ? "" : await call("read", text);
  if (input.value === text && !input.hasAttribute("aria-invalid")) {
    says.textContent = read === "" || read === text.trim() ? "" : "= " + read;
  }
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
      solve();
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

// Solving

function form() {
  const rows = (id) => [...$(id).querySelectorAll(".row")].map((row) =>
    Object.fromEntries([...row.querySelectorAll("input")].map((i) => [i.dataset.field, i.value])));
  return { title: $("title").value, kerf: $("kerf").value, pieces: rows("pieces"), sticks: rows("sticks") };
}

let latest = 0;
async function solve() {
  const mine = ++latest;
  document.querySelectorAll("#job input").forEach(clear);
  state("working", "Working it out…");
  const answer = JSON.parse(await call("answer", JSON.stringify(form())));
  if (mine !== latest) return; // another one was asked for meanwhile
  const done = !answer.faults;
  for (const id of ["summary", "sheet"]) $(id).hidden = !done;
  if (!done) {
    const inputs = answer.faults.map(showFault);
    const whole = answer.faults.filter((_, i) => !inputs[i]).map((f) => f.message);
    const n = inputs.filter(Boolean).length;
    if (n > 0) whole.push(n === 1 ? "One field needs another look." : `${n} fields need another look.`);
    state("faults", whole.join(" "));
    inputs.find(Boolean)?.focus();
    return;
  }
  $("n-sticks").textContent = answer.sticks;
  $("n-pieces").textContent = answer.pieces;
  $("n-cost").textContent = answer.cost;
  $("cost-name").textContent = answer.cost.startsWith("$") ? "Cost" : "Length";
  $("sheet").srcdoc = answer.sheet;
  state("done", answer.proven
    ? "Proven: nothing is cheaper."
    : `The search ended early: another plan could save ${answer.gap} at most.`);
}

// The sheet is as high as what is on it.
function fit() {
  const frame = $("sheet"), page = frame.contentDocument?.documentElement;
  if (page && !frame.hidden) {
    frame.style.height = "0";
    frame.style.height = page.scrollHeight + frame.offsetHeight - frame.clientHeight + "px";
  }
}
$("sheet").addEventListener("load", () => {
  fit();
  $("result").dataset.sheet = String(latest);
});
addEventListener("resize", fit);

$("print").addEventListener("click", () => $("sheet").contentWindow.print());
$("job").addEventListener("submit", (e) => {
  e.preventDefault();
  if (!$("solve").disabled) solve();
});
$("kerf").addEventListener("input", () => understand($("kerf")));
for (const kind of ["piece", "stick"]) {
  for (const values of first[kind + "s"]) addRow(kind, values);
  $(kind + "s").querySelector(".add").addEventListener("click", () => addRow(kind).querySelector("input").focus());
}
start();
