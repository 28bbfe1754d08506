// Lists: several lines that somebody pastes become pieces.
import * as form from "./form.js";

const $ = (id) => document.getElementById(id);

// More text than this is no list that a person made.
const longest = 8_000_000;

// start makes ready for lists. read(text) returns rows or faults, done(n, before) is called
// when n pieces are in the form.
export function start(read, done) {
  let reading = false;
  const take = async (text, field) => {
    if (reading) return;
    if (text.length > longest) return refuse("", [{ line: 0, message: "This is too long for a list of pieces." }]);
    reading = true;
    $("take").disabled = true;
    const answer = await read(text);
    reading = false;
    $("take").disabled = false;
    if (!answer) return refuse(text, [{ line: 0, message: "The list could not be read: the solver ended. Try it once more." }]);
    if (answer.faults) return refuse(text, answer.faults);
    const before = form.values();
    const first = form.insert(answer.rows, field?.isConnected ? field : null);
    if (!first) return refuse(text, [{ line: 0, message: `With these there would be more than ${form.most} rows of pieces.` }]);
    refuse("", []);
    $("paste").open = false;
    first.querySelector("input").focus();
    done(answer.rows.length, before);
  };
  $("take").addEventListener("click", () => take($("list").value, null));
  $("pieces").querySelector(".rows").addEventListener("paste", (e) => {
    const text = e.clipboardData?.getData("text/plain") ?? "";
    if (!/\S[^\S\n\r]*[\r\n]+\s*\S/.test(text)) return; // one line is what the field takes
    e.preventDefault();
    take(text, e.target);
  });
}

// refuse shows the list with what is wrong in it, the keyboard in the first such line.
function refuse(text, faults) {
  const box = $("list-faults"), list = $("list"), shown = 20;
  box.hidden = faults.length === 0;
  box.replaceChildren();
  list.value = text;
  list.toggleAttribute("aria-invalid", faults.length > 0);
  if (faults.length === 0) {
    list.removeAttribute("aria-describedby");
    return;
  }
  list.setAttribute("aria-invalid", "true");
  list.setAttribute("aria-describedby", box.id);
  const ul = document.createElement("ul");
  for (const f of faults.slice(0, shown)) {
    const li = document.createElement("li");
    if (f.line > 0) {
      const go = document.createElement("button");
      go.type = "button";
      go.textContent = "Line " + f.line;
      go.addEventListener("click", () => select(f.line));
      li.append(go, " ");
    }
    li.append(f.message);
    ul.append(li);
  }
  box.append(ul);
  if (faults.length > shown) box.append(`And ${faults.length - shown} more.`);
  $("paste").open = true;
  if (faults[0].line > 0) select(faults[0].line);
  else list.focus();
}

// select marks a line of the list.
function select(line) {
  const list = $("list");
  let from = 0;
  for (let n = 1; n < line; n++) {
    const next = list.value.indexOf("\n", from);
    if (next < 0) break;
    from = next + 1;
  }
  const to = list.value.indexOf("\n", from);
  list.focus();
  list.setSelectionRange(from, to < 0 ? list.value.length : to);
}
