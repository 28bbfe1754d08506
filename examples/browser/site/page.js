// One job, one solve at a time, one sheet. What ties them: a sheet counts only while
// the form is as it was when the sheet was made.
import * as file from "./file.js";
import * as form from "./form.js";
import * as keep from "./keep.js";
import * as list from "./list.js";
import * as sheet from "./sheet.js";
import { Solver, compile } from "./solver.js";

const $ = (id) => document.getElementById(id);

const first = {
  title: "Classroom base",
  kerf: "1/8\"",
  pieces: [
    { label: "north wall, left", length: "12' 1-3/8\"" },
    { label: "beside the stove", length: "7' 4-3/4\"" },
    { label: "under the windows", length: "41 1/2", quantity: "2" },
  ],
  sticks: [
    { length: "12 ft", price: "19.08" },
    { length: "16 ft", price: "26.08" },
  ],
};

let reader, solver; // lengths are read while a search runs, so the two are apart
let run = null;     // the solve that is under way: { job, stopping }
let made = null;    // what the sheet that is shown was made of: { job, verdict }

// state is the only place where a sheet becomes good or bad: it is good when the page is
// done, and at no other time.
function state(name, text) {
  $("result").dataset.state = name;
  $("status").textContent = text;
  sheet.current(name === "done");
  $("print").hidden = $("saw").hidden = name !== "done";
  const stopped = document.activeElement === $("cancel");
  $("cancel").hidden = $("headway").hidden = name !== "working";
  $("cancel").textContent = run?.stopping ? "End it now" : "Cancel";
  if (name !== "working") $("spoken").textContent = "";
  if (stopped && name !== "working") $("solve").focus();
}

// drop takes away what was worked out, and ends what still is.
function drop() {
  if (run) {
    clearTimeout(run.stopping);
    solver.end();
  }
  run = made = null;
  sheet.remove();
  $("summary").hidden = true;
}

// headway shows how far the search is: what share of its steps is gone, and how much
// there is still to be saved. The bar is no promise: most searches end before it is full.
// Who hears the page is told now and then.
const seldom = 8000; // milliseconds
function headway(mine, now) {
  if (now === null) return; // there is no plan yet
  const { cost, gap, open, spent } = now;
  $("bar").value = spent;
  let text = cost + ".";
  if (open === 1) text = cost + " so far; how good that is, is not known yet.";
  else if (open > 0) text = `${cost} so far; another plan could save ${gap} at most.`;
  $("so-far").textContent = text;
  if (performance.now() - (mine.spoke ?? -seldom) >= seldom) {
    mine.spoke = performance.now();
    $("spoken").textContent = text;
  }
}

// solve works the job out. Where somebody asked for it, what comes out comes into sight.
async function solve(asked = true) {
  if (!solver) return;
  if (run) drop();
  const mine = run = { job: form.job(), stopping: 0 };
  form.clearFaults();
  $("bar").value = 0;
  $("so-far").textContent = "";
  state("working", "Working it out…");
  const date = new Date().toLocaleDateString("en-US", { dateStyle: "medium" });
  const answer = await solver.ask("answer", JSON.stringify({ ...form.values(), date }), (now) => {
    if (run === mine) headway(mine, now);
  });
  if (run !== mine) return;
  clearTimeout(mine.stopping);
  if (answer.faults) {
    run = null;
    drop();
    if (answer.stopped) state("stopped", "Stopped before there was a plan. Nothing is worked out for this job.");
    else state("faults", form.showFaults(answer.faults));
    return;
  }
  await sheet.show(answer.sheet, answer.fingerprint);
  if (run !== mine) return;
  run = null;
  $("n-sticks").textContent = answer.sticks;
  $("n-pieces").textContent = answer.pieces;
  $("n-cost").textContent = answer.cost;
  $("cost-name").textContent = answer.cost.startsWith("$") ? "Cost" : "Length";
  $("summary").hidden = false;
  made = { job: mine.job, verdict: verdict(answer) };
  check();
  if (asked) reveal();
}

// reveal brings what came out into sight, as on a phone, where it is below the form.
function reveal() {
  if ($("result").getBoundingClientRect().top > innerHeight / 2) $("result").scrollIntoView();
}

function verdict({ proven, stopped, gap }) {
  if (proven) return "Proven: nothing is cheaper.";
  return `${stopped ? "You stopped the search: this is the best plan it had" : "The search ended early"}; another could save ${gap} at most.`;
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

// cancel asks for the best plan so far. A search that does not answer is ended, at once
// where somebody insists.
const patience = 10_000; // milliseconds
function cancel() {
  if (!run) return;
  if (run.stopping) {
    end();
    return;
  }
  run.stopping = setTimeout(end, patience);
  solver.stop();
  state("working", "Stopping, with the best plan so far…");
}

function end() {
  drop();
  state("stopped", "Stopped. Nothing is worked out for this job.");
  reveal();
}

function failed(reason) {
  drop();
  state("failed", `The solver ended by itself: ${reason}. It starts anew when you press “Work it out”; if it ends again, try the job in parts.`);
  reveal();
}

// Notes

// note says something in passing, with a way back where there is one.
function note(text, label, act) {
  const box = $("note");
  box.replaceChildren();
  if (!text) return;
  const p = document.createElement("p"), close = document.createElement("button");
  p.textContent = text;
  box.append(p);
  if (act) {
    const b = document.createElement("button");
    b.type = "button";
    b.textContent = label;
    b.addEventListener("click", () => {
      note("");
      act();
    });
    box.append(b);
  }
  close.type = "button";
  close.textContent = "×";
  close.setAttribute("aria-label", "Close the note");
  close.addEventListener("click", () => note(""));
  box.append(close);
}

let unkept = false; // it was said that nothing is kept

function edited() {
  check();
  keep.keep(form.values, (failed) => {
    if (failed && !unkept) note("This browser keeps nothing: its storage is full or switched off. Save the job as a file.");
    $("kept").textContent = failed ? "This browser does not keep the job. Save it as a file." : "This browser keeps the job until you forget it.";
    unkept = failed;
  });
}

// replace puts another job into the form.
function replace(values, text) {
  const before = form.values();
  form.fill(values);
  edited();
  note(text, "Undo", () => {
    form.fill(before);
    edited();
    $("title").focus();
  });
}

// begin fills the form with what was kept, or with what there is at first.
function begin() {
  const kept = keep.kept();
  form.fill(kept ?? first);
  if (kept === null) note("What was kept here cannot be read, so the page begins anew.");
}

form.start({ read: async (text) => reader ? reader.ask("read", text) : null, edited, solve });
begin();
keep.elsewhere((values) => {
  if (values) note("The job was changed in another tab. What is changed last is kept.", "Take that one", () => replace(values, "The job of the other tab."));
  else note("The job was forgotten in another tab.");
});
list.start(async (text) => reader ? reader.ask("list", text) : null, (n, before) => {
  edited();
  note(n === 1 ? "One piece was added." : `${n} pieces were added.`, "Undo", () => {
    form.fill(before);
    edited();
  });
});
file.start({
  ask: async (kind, text) => reader ? reader.ask(kind, text) : null,
  opened: (values, name) => {
    replace(values, `${name} was opened.`);
    solve();
  },
  refused: (faults) => {
    form.clearFaults();
    note("Nothing was saved. " + form.showFaults(faults));
  },
  lost: () => note("Nothing was saved: the solver ended. Try it once more."),
  saved: (name) => note(`${name} was saved.`),
});
$("forget").addEventListener("click", () => {
  replace({}, "The job is forgotten.");
  keep.forget();
  sheet.forgetTicks();
  drop();
  state("stopped", "There is no job.");
  $("title").focus();
});
$("job").addEventListener("submit", (e) => {
  e.preventDefault();
  solve();
});
$("cancel").addEventListener("click", (e) => { if (e.detail < 2) cancel(); });
addEventListener("keydown", (e) => { if (e.key === "Escape" && !e.repeat) cancel(); });
$("print").addEventListener("click", () => {
  check();
  if ($("result").dataset.state === "done") print();
});
$("saw").addEventListener("click", sheet.enlarge);
sheet.onPaper(() => {
  check(); // a browser may fill fields in without a word
  return $("result").dataset.state === "stale"
    ? "Out of date. Do not cut by this sheet: work the job out again."
    : "There is no sheet to print: work the job out first.";
});
addEventListener("pageshow", check);

try {
  const module = await compile();
  reader = new Solver(module, () => {});
  solver = new Solver(module, failed);
  $("solve").disabled = false;
  form.understandAll();
  const { pieces, runs } = form.filled(form.values());
  if (pieces.length + runs.length > 0) solve(false);
  else state("stopped", "There is no job.");
} catch (e) {
  state("failed", "The solver could not be started: " + e);
}

// What the page consists of is kept for where there is no network, when nothing else is to be done.
if (window.isSecureContext) navigator.serviceWorker?.register("offline.js").catch(() => {}); // then it takes a network
