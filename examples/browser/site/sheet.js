// The sheet that is shown, in a frame of its own. One that is out of date says so on
// the screen, and on paper there is nothing else of it. On paper the sheet is all there is
// of the page.
const $ = (id) => document.getElementById(id);
const blank = $("sheet");
const stale = "Out of date. Do not cut by this sheet: work the job out again.";
let frame = blank;
let good = false;

// put replaces the frame: a load that is under way in the old one is heard no more.
function put(next) {
  next.style.height = frame.style.height;
  frame.replaceWith(next);
  frame = next;
}

// show resolves when the sheet is there, marked as out of date until somebody says
// otherwise. name is what no other plan has.
export function show(html, name) {
  const next = blank.cloneNode(false);
  next.hidden = false;
  next.srcdoc = html;
  const loaded = new Promise((resolve) => next.addEventListener("load", resolve, { once: true }));
  put(next);
  return loaded.then(() => {
    const page = next.contentDocument;
    const style = page.createElement("style"), mark = page.createElement("p");
    style.id = "mark";
    style.textContent = `
      .out-of-date { position: sticky; top: 0; z-index: 1; margin: 0 0 1em; padding: .5em .8em; border: 2pt solid #8c1d18; background: #ffffff; color: #8c1d18; font-weight: bold; }
      html:not([data-out-of-date]) .out-of-date { display: none; }
      [data-out-of-date] body > :not(.out-of-date) { opacity: .45; }
      /* What a sheet measures by the screen is without sense in a frame as high as the sheet. */
      html:not([data-saw]) * { min-height: 0 !important; }
      html:not([data-saw]) .progress { position: static; }
      @media print { [data-out-of-date] body > :not(.out-of-date) { display: none !important; } }`;
    mark.className = "out-of-date";
    mark.textContent = stale;
    page.head.append(style);
    page.body.prepend(mark);
    ticks(page, name);
    page.addEventListener("keydown", (e) => { if (e.key === "Escape") small(); });
    current(false);
  });
}

// current says whether the sheet belongs to the job as it stands.
export function current(yes) {
  good = yes;
  if (frame.hidden) return;
  frame.contentDocument?.documentElement?.toggleAttribute("data-out-of-date", !yes);
  fit();
}

export function remove() {
  small();
  if (frame !== blank) put(blank);
}

// The frame is as high as what is on it, unless it takes the whole window.
function fit() {
  const page = frame.contentDocument?.documentElement;
  if (!page || frame.hidden) return;
  if (large) {
    frame.style.height = "";
    return;
  }
  frame.style.height = "0";
  frame.style.height = page.scrollHeight + frame.offsetHeight - frame.clientHeight + "px";
}
addEventListener("resize", fit);

// At the saw

let large = false, awake = null;

// enlarge gives the sheet the whole window, until somebody goes back. The screen stays on
// where the browser can be asked for that.
export async function enlarge() {
  if (large || frame.hidden) return;
  large = true;
  history.pushState({ saw: true }, "");
  spread(true);
  $("back").focus();
  try {
    awake = await navigator.wakeLock?.request("screen");
    if (!large) awake?.release();
  } catch { /* then it goes dark as it does */ }
}

function small() {
  if (large) history.back();
}

function spread(yes) {
  large = yes;
  for (const page of [document, frame.contentDocument]) page.documentElement.toggleAttribute("data-saw", yes);
  for (const e of document.querySelectorAll("body > header, #job, body > footer, #result > :not(#viewer)")) e.inert = yes;
  $("shut").hidden = !yes;
  fit();
}

$("back").addEventListener("click", small);
addEventListener("keydown", (e) => { if (e.key === "Escape") small(); });
addEventListener("popstate", () => {
  if (!large) return;
  spread(false);
  awake?.release();
  awake = null;
  $("saw").focus();
});

// What is ticked off

const key = "longpoint.ticks";

// ticks brings back what was ticked off on the sheet of the same plan, and keeps it.
function ticks(page, name) {
  const boxes = [...page.querySelectorAll("input[type=checkbox]")];
  try {
    const kept = JSON.parse(localStorage.getItem(key));
    if (kept?.sheet === name) for (const i of kept.ticked) if (boxes[i]) boxes[i].checked = true;
  } catch { /* then nothing is ticked */ }
  page.addEventListener("change", () => {
    const ticked = boxes.map((b, i) => b.checked ? i : -1).filter((i) => i >= 0);
    try {
      localStorage.setItem(key, JSON.stringify({ sheet: name, ticked }));
    } catch { /* they stay as long as the page does */ }
  });
}

export function forgetTicks() {
  try {
    localStorage.removeItem(key);
  } catch { /* there are none */ }
}

// Paper

// Frames do not break over pages, so the sheet is laid out as a body of its own, with its
// own styles, as long as somebody prints.
let title = "";
function lay(why) {
  lift();
  const paper = document.createElement("body");
  paper.id = "paper";
  const page = frame.hidden ? null : frame.contentDocument;
  if (good && page) {
    for (const style of page.querySelectorAll("style:not(#mark)")) {
      const copy = document.importNode(style, true);
      if (!copy.media) copy.media = "print";
      paper.append(copy);
    }
    for (const e of page.body.children) {
      if (!e.matches(".out-of-date, style, script")) paper.append(document.importNode(e, true));
    }
    title = document.title;
    document.title = page.title || title;
  } else {
    const p = document.createElement("p");
    p.className = "no-sheet";
    p.textContent = why;
    paper.append(p);
  }
  document.documentElement.append(paper);
}

function lift() {
  document.querySelector("#paper")?.remove();
  if (title) document.title = title;
  title = "";
}

// onPaper has the sheet printed in the place of the page. reason() is called before, and
// says what is printed where there is no sheet that counts.
export function onPaper(reason) {
  const before = () => lay(reason());
  addEventListener("beforeprint", before);
  addEventListener("afterprint", lift);
}
