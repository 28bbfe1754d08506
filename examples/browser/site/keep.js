// The job is kept in this browser from one visit to the next, and can be forgotten. Nothing
// here may be relied on: a browser may have no room, or keep nothing at all.
const key = "longpoint.job";
let written; // what this tab wrote last
let waiting = 0;

// kept returns the form that was kept, undefined where there is none, null where it cannot
// be read.
export function kept() {
  let text = null;
  try {
    text = localStorage.getItem(key);
  } catch { /* nothing is kept here */ }
  if (text === null) return undefined;
  written = text;
  return parse(text);
}

function parse(text) {
  try {
    const { version, form } = JSON.parse(text);
    return version === 1 && typeof form === "object" ? form : null;
  } catch {
    return null;
  }
}

// keep writes the form in a moment, once for many changes, or when the page goes out of
// sight: a phone may not bring it back. failed is told whether it could be kept.
export function keep(values, failed) {
  clearTimeout(waiting);
  write = () => {
    clearTimeout(waiting);
    write = nothing;
    const text = JSON.stringify({ version: 1, form: values() });
    if (text === written) return;
    try {
      localStorage.setItem(key, text);
      written = text;
      failed(false);
    } catch {
      failed(true);
    }
  };
  waiting = setTimeout(write, 300);
}
const nothing = () => {};
let write = nothing;
addEventListener("pagehide", () => write());
document.addEventListener("visibilitychange", () => {
  if (document.visibilityState === "hidden") write();
});

export function forget() {
  clearTimeout(waiting);
  write = nothing;
  written = null;
  try {
    localStorage.removeItem(key);
  } catch { /* then nothing is kept */ }
}

// elsewhere calls changed with the form that another tab has kept, null if it forgot it.
export function elsewhere(changed) {
  addEventListener("storage", (e) => {
    if (e.key !== key && e.key !== null || e.newValue === written) return;
    changed(e.newValue === null ? null : parse(e.newValue));
  });
}
