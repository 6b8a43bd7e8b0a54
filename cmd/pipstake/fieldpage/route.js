// The way between the views. The part of the address after # says what is shown,
// so that the phone’s own back button works.

// where tells what the address names.
function where() {
  const hash = decodeURIComponent(location.hash.slice(1));
  if (hash === "counts") return { view: "counts" };
  if (hash === "walk") return { view: "walk" };
  const pot = hash.startsWith("walk/") && byID.get(hash.slice(5));
  if (pot && pot.level === "pot") return { view: "walk", row: pot };
  const row = byID.get(hash);
  return row ? { view: "row", row } : { view: "find" };
}

// show shows what the address says.
function show() {
  const { view, row } = where();
  at("find").hidden = view !== "find" && view !== "row";
  at("find-title").hidden = view !== "find";
  at("ways").hidden = view === "counts" || view === "walk" && !row;
  at("shown").hidden = view !== "row";
  at("walk").hidden = view !== "walk";
  at("counts").hidden = view !== "counts";
  at("shown").replaceChildren(...view === "row" ? [sheet(row)] : []);
  at("dock").replaceChildren();
  at("walk").replaceChildren(...view === "walk" ? row ? walkSheet(row) : startSheet() : []);
  at("counts").replaceChildren(...view === "counts" ? enteredSheet() : []);
  at("dock").hidden = at("dock").childElementCount === 0;
  if (at("dock").hidden) steps = null;
  const query = at("query").value;
  list(view !== "find" ? [] : query.trim() ? matches(query) : season.crosses.map(c => byID.get(c.id)));
  showTabs(view);
}

function showTabs(view) {
  const n = toBring().length;
  at("to-counts").textContent = n > 0 ? "Entered (" + n + ")" : "Entered";
  for (const [id, current] of [["to-find", view === "find" || view === "row"], ["to-walk", view === "walk"], ["to-counts", view === "counts"]]) {
    if (current) at(id).setAttribute("aria-current", "page");
    else at(id).removeAttribute("aria-current");
  }
}

// redraw shows the same view anew, with the focus on what an entry changed.
function redraw(entry) {
  const y = window.scrollY;
  show();
  window.scrollTo(0, y);
  const changed = entry && document.getElementById(entry.kind + "-" + entry.on) || document.querySelector("main section:not([hidden]) h1:not([hidden])");
  if (changed) changed.focus({ preventScroll: true });
}

// goTo shows another view, with something said there.
function goTo(hash, words) {
  toSay = words;
  if (decodeURIComponent(location.hash.slice(1)) === hash) arrive();
  else location.hash = hash;
}
let toSay = ""; // when the view is there

// replaceAddress goes on to another view that the back button does not come back
// to, and leaves what is said.
function replaceAddress(hash) {
  history.replaceState(null, "", "#" + hash);
  show();
  toTop();
}

// arrive shows the view that was gone to, from its top.
function arrive() {
  if (where().view !== "walk" || !where().row) stop();
  show();
  if (toSay !== null) say(toSay);
  toSay = "";
  toTop();
}

function toTop() {
  const heading = [...document.querySelectorAll("main h1")].find(h => h.checkVisibility ? h.checkVisibility() : !h.hidden);
  if (heading) heading.focus({ preventScroll: true });
  window.scrollTo(0, 0);
}

// restart goes back to the list of all crosses.
function restart() {
  at("query").value = "";
  listed = listStep;
  if (location.hash.length > 1) history.pushState(null, "", "#");
  stop();
  show();
  say("");
  toTop();
}

// taken answers codes that were scanned, by the view that shows.
function taken(texts) {
  return where().view === "walk" ? takeOnWalk(texts) : takeFound(texts);
}

async function takePicture() {
  const file = at("picture").files[0];
  at("picture").value = "";
  if (!file) return;
  say("Looking at the picture …");
  try {
    const { texts, seen } = await readPicture(file);
    const more = seen > 0 ? several(seen, "code") + " seen and not read: come nearer." : "";
    if (texts.length === 0) refuse(more || "No code was found on the picture. Come nearer, or type the identifier.");
    else if (taken(texts) && more) say(at("said").textContent + " " + more);
    else if (at("said").textContent.startsWith("Looking")) say(more);
  } catch (e) {
    refuse("The picture could not be read (" + (e.message || e.name) + "). Type the identifier.");
  }
}

at("search").addEventListener("submit", event => {
  event.preventDefault();
  if (at("query").value.trim() === "") restart();
  else if (look(at("query").value)) at("query").blur(); // the keyboard goes
});
at("query").addEventListener("input", () => {
  say("");
  listed = listStep;
  if (location.hash.length > 1) history.pushState(null, "", "#");
  show();
});
at("to-find").addEventListener("click", event => {
  event.preventDefault();
  restart();
});
at("camera").addEventListener("click", () => scan(taken));
at("stop").addEventListener("click", () => {
  stop();
  say("");
  at("camera").focus();
});
at("snap").hidden = !canReadPictures();
at("snap").addEventListener("click", () => at("picture").click());
at("picture").addEventListener("change", takePicture);
window.addEventListener("hashchange", arrive);
window.addEventListener("storage", () => show());
window.addEventListener("beforeunload", event => {
  if (!stores && toBring().some(e => !e.saved)) event.preventDefault();
});
// The foot stays on the screen where the letters leave room for it. What gets the
// focus is scrolled clear of it.
function fitFoot() {
  const root = document.documentElement;
  const stays = parseFloat(getComputedStyle(root).fontSize) < window.innerHeight / 25;
  at("foot").classList.toggle("stays", stays);
  root.style.scrollPaddingBottom = (stays ? at("foot").offsetHeight : 0) + 8 + "px";
}
window.addEventListener("resize", fitFoot);
if ("ResizeObserver" in window) new ResizeObserver(fitFoot).observe(at("foot"));
fitFoot();
show();
