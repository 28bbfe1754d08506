// The sheet that is shown, in a frame of its own. One that is out of date says so on
// the screen, and on paper there is nothing else of it.
const blank = document.getElementById("sheet");
let frame = blank;

// put replaces the frame: a load that is under way in the old one is heard no more.
function put(next) {
  next.style.height = frame.style.height;
  frame.replaceWith(next);
  frame = next;
}

// show resolves when the sheet is there, marked as out of date until somebody says
// otherwise.
export function show(html) {
  const next = blank.cloneNode(false);
  next.hidden = false;
  next.srcdoc = html;
  const loaded = new Promise((resolve) => next.addEventListener("load", resolve, { once: true }));
  put(next);
  return loaded.then(() => {
    const page = next.contentDocument;
    const style = page.createElement("style"), mark = page.createElement("p");
    style.textContent = `
      .out-of-date { position: sticky; top: 0; z-index: 1; margin: 0 0 1em; padding: .5em .8em; border: 2pt solid #8c1d18; background: #ffffff; color: #8c1d18; font-weight: bold; }
      html:not([data-out-of-date]) .out-of-date { display: none; }
      [data-out-of-date] main { opacity: .45; }
      @media print { [data-out-of-date] main { display: none; } }`;
    mark.className = "out-of-date";
    mark.textContent = "Out of date. Do not cut by this sheet: work the job out again.";
    page.head.append(style);
    page.body.prepend(mark);
    current(false);
  });
}

// current says whether the sheet belongs to the job as it stands.
export function current(yes) {
  if (frame.hidden) return;
  frame.contentDocument?.documentElement?.toggleAttribute("data-out-of-date", !yes);
  fit();
}

export function remove() {
  if (frame !== blank) put(blank);
}

export function print() {
  frame.contentWindow.print();
}

// The frame is as high as what is on it.
function fit() {
  const page = frame.contentDocument?.documentElement;
  if (page && !frame.hidden) {
    frame.style.height = "0";
    frame.style.height = page.scrollHeight + frame.offsetHeight - frame.clientHeight + "px";
  }
}
addEventListener("resize", fit);
