// Files: a job leaves the page and comes back as the JSON that the library reads.
import * as form from "./form.js";

const $ = (id) => document.getElementById(id);
const longest = 8_000_000; // bytes

// start makes ready for files. ask(kind, text) is the solver's, opened(values, name) takes
// what a file holds, refused says what keeps the form from being saved, lost that the solver ended.
export function start({ ask, opened, refused, lost, saved }) {
  const open = async (file) => {
    explain("", []);
    if (file.size > longest) return explain(file.name, [{ message: "It is too long to be a job." }]);
    let text;
    try {
      text = new TextDecoder("utf-8", { fatal: true }).decode(await file.arrayBuffer());
    } catch {
      return explain(file.name, [{ message: "It is no text in UTF-8, or cannot be read." }]);
    }
    const answer = await ask("open", text);
    if (!answer) return explain(file.name, [{ message: "The solver ended while it read. Try it once more." }]);
    if (answer.faults) return explain(file.name, answer.faults);
    opened({ ...answer.form, title: file.name.replace(/\.json$/i, "").replace(/ \(\d+\)$/, "") }, file.name);
  };
  $("open").addEventListener("click", () => $("file").click());
  $("file").addEventListener("change", () => {
    const [file] = $("file").files;
    if (file) open(file);
    $("file").value = ""; // the same file may be opened again
  });
  $("save").addEventListener("click", async () => {
    explain("", []);
    const values = form.values();
    const answer = await ask("save", JSON.stringify(values));
    if (!answer) return lost();
    if (answer.faults) return refused(answer.faults);
    const link = document.createElement("a"), url = URL.createObjectURL(new Blob([answer.text], { type: "application/json" }));
    link.href = url;
    link.download = name(values.title);
    link.click();
    setTimeout(() => URL.revokeObjectURL(url), 60_000);
    saved(link.download);
  });
}

// name makes the name of a file of a job's.
function name(title) {
  return (title.replace(/[\u0000-\u001f\u007f"*/:<>?\\|]/g, " ").replace(/\s+/g, " ").trim().replace(/^\.+/, "") || "job") + ".json";
}

function explain(file, faults) {
  const box = $("file-faults"), shown = 20;
  box.hidden = faults.length === 0;
  box.replaceChildren();
  if (faults.length === 0) return;
  const p = document.createElement("p"), ul = document.createElement("ul");
  p.textContent = `${file} was not opened. The form is as it was.`;
  for (const f of faults.slice(0, shown)) {
    const li = document.createElement("li");
    li.textContent = f.message;
    ul.append(li);
  }
  box.append(p, ul);
  if (faults.length > shown) box.append(`And ${faults.length - shown} more.`);
  box.focus();
}
