// One job, one solve at a time, one sheet. What ties them: a sheet counts only while
// the form is as it was when the sheet was made.
import * as form from "./form.js";
import * as sheet from "./sheet.js";
import { Solver, compile } from "./solver.js";

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

let reader, solver; // lengths are read while a search runs, so the two are apart
let run = null;     // the solve that is under way
let made = null;    // what the sheet that is shown was made of: { job, verdict }

// state is the only place where a sheet becomes good or bad: it is good when the page is
// done, and at no other time.
function state(name, text) {
  $("result").dataset.state = name;
  $("status").textContent = text;
  sheet.current(name === "done");
  $("print").hidden = name !== "done";
  const stopped = document.activeElement === $("cancel");
  $("cancel").hidden = $("headway").hidden = name !== "working";
  if (stopped && name !== "working") $("solve").focus();
}

// drop takes away what was worked out, and ends what still is.
function drop() {
  if (run) solver.stop();
  run = made = null;
  sheet.remove();
  $("summary").hidden = true;
}

// headway shows how far the search is: what share of its steps is gone, and how much
// there is still to be saved. The bar is no promise: most searches end before it is full.
function headway({ cost, gap, open, spent }) {
  $("bar").value = spent;
  $("so-far").textContent = open > 0 ? `${cost} so far; another plan could save ${gap} at most.` : `${cost}.`;
}

async function solve() {
  if (!solver) return;
  if (run) drop();
  const mine = run = { job: form.job() };
  form.clearFaults();
  $("bar").value = 0;
  $("so-far").textContent = "";
  state("working", "Working it out…");
  const text = await solver.ask("answer", JSON.stringify(form.values()), (now) => {
    if (run === mine) headway(JSON.parse(now));
  });
  if (run !== mine) return;
  const answer = JSON.parse(text);
  if (answer.faults) {
    run = null;
    drop();
    state("faults", form.showFaults(answer.faults));
    return;
  }
  await sheet.show(answer.sheet);
  if (run !== mine) return;
  run = null;
  $("n-sticks").textContent = answer.sticks;
  $("n-pieces").textContent = answer.pieces;
  $("n-cost").textContent = answer.cost;
  $("cost-name").textContent = answer.cost.startsWith("$") ? "Cost" : "Length";
  $("summary").hidden = false;
  const verdict = answer.proven
    ? "Proven: nothing is cheaper."
    : `The search ended early: another plan could save ${answer.gap} at most.`;
  made = { job: mine.job, verdict };
  check();
}

// check compares the form with what the sheet was made of. A form that is put back as
// it was makes the sheet good again.
function check() {
  const job = form.job();
  if (run) {
    if (run.job === job) return;
    drop();
    state("stopped", "The job was changed, so the search was stopped. Work it out again.");
  } else if (made) {
    if (made.job === job) state("done", made.verdict);
    else state("stale", "Out of date: the job was changed after this was worked out. Work it out again.");
  }
}

function cancel() {
  if (!run) return;
  drop();
  state("stopped", "Stopped. Nothing is worked out for this job.");
}

function failed(reason) {
  drop();
  state("failed", `The solver failed: ${reason}. Work it out again, or load the page anew.`);
}

form.start(first, { read: async (text) => reader ? reader.ask("read", text) : null, edited: check, solve });
$("job").addEventListener("submit", (e) => {
  e.preventDefault();
  solve();
});
$("cancel").addEventListener("click", cancel);
addEventListener("keydown", (e) => { if (e.key === "Escape") cancel(); });
$("print").addEventListener("click", () => {
  check();
  if ($("result").dataset.state === "done") sheet.print();
});
// A browser may fill fields in without a word.
addEventListener("beforeprint", check);
addEventListener("pageshow", check);

try {
  const module = await compile();
  reader = new Solver(module, () => {});
  solver = new Solver(module, failed);
  $("solve").disabled = false;
  form.understandAll();
  solve();
} catch (e) {
  state("failed", "The solver could not be started: " + e);
}
