// Finding, and the way between the sheets. The part of the address after # says
// what is shown, so that the phone’s own back button works.

const at = id => document.getElementById(id);
const mostFound = 40;

function say(text) {
  at("said").textContent = text;
}

// plainText is a text without case, accents and hyphens, to be looked for.
function plainText(text) {
  const plain = { "ł": "l", "ø": "o", "æ": "ae", "œ": "oe", "ß": "ss", "đ": "d", "ð": "d", "þ": "th", "ı": "i" };
  return text.normalize("NFD").toLowerCase().replace(/\p{M}|[\s'’-]/gu, "").replace(/[łøæœßđðþı]/g, c => plain[c]);
}

const index = [...byID.values()].map(row => {
  const cross = row.level === "cross" ? row : null;
  return { row, id: plainText(row.id), names: cross ? [plainText(cross.seed), plainText(cross.pollen)] : row.place ? [plainText(row.place)] : [] };
});

// matches gives the rows whose identifier, parent or place holds a text.
function matches(text) {
  const folded = plainText([...text].map(c => foldCharacter(c) || c).join(""));
  const digits = folded.replaceAll("o", "0").replaceAll("i", "1");
  const hits = index.filter(e => folded !== "" && (e.id.includes(folded) || e.id.includes(digits) || e.names.some(n => n.includes(folded))));
  return hits.map(e => e.row);
}

// look answers what was typed or scanned: the sheet where it names one that the
// registry has, else what comes near or what is wrong. It tells whether the
// sheet was found.
function look(text) {
  say("");
  let read;
  try {
    read = readCode(text);
  } catch (e) {
    if (!(e instanceof Misread)) throw e;
    const near = e.kind === "check" ? [] : matches(text);
    list(near);
    say(near.length > 0 ? several(near.length, "match").replace("matchs", "matches") + "." : "“" + text + "”: " + e.message + ".");
    return false;
  }
  const notice = read.notices.length > 0 ? "Read as " + read.id + ": " + read.notices.join(", ") + "." : "";
  if (!byID.has(read.id)) {
    list([]);
    say(read.id + " is not in the registry as of " + season.made + ". " + notice);
    return false;
  }
  said = notice;
  if (location.hash === "#" + read.id) show();
  else location.hash = read.id;
  return true;
}
let said = ""; // to be said once the sheet is there

function list(rows) {
  const items = rows.slice(0, mostFound).map(row => link(row.id, summary(row)));
  if (rows.length > mostFound) items.push(node("p", {}, rows.length - mostFound + " more. Type more of it."));
  at("found").replaceChildren(...items);
}

// show shows what the address says.
function show() {
  const id = decodeURIComponent(location.hash.slice(1));
  const row = byID.get(id);
  at("shown").hidden = !row;
  at("counts").hidden = id !== "counts";
  at("find").hidden = id === "counts";
  at("shown").replaceChildren(...row ? [sheet(row)] : []);
  if (id === "counts") at("counts").replaceChildren(...countsSheet());
  list(row ? [] : at("query").value ? matches(at("query").value) : season.crosses.map(c => byID.get(c.id)));
  say(said);
  said = "";
  const n = entered().length;
  at("to-counts").textContent = n > 0 ? "Counts (" + n + ")" : "Counts";
  at("to-find").setAttribute("aria-current", String(id !== "counts"));
  at("to-counts").setAttribute("aria-current", String(id === "counts"));
}

// restart goes back to the list of all crosses.
function restart() {
  at("query").value = "";
  if (location.hash.length > 1) history.pushState(null, "", "#");
  show();
  window.scrollTo(0, 0);
}

// countsSheet lists the counts that were entered, with what can be done.
function countsSheet() {
  const counts = entered();
  const parts = [node("h1", { className: "title" }, "Counts to bring home")];
  if (!stores) {
    parts.push(node("p", { className: "wrong", id: "unkept" }, "This browser keeps nothing for this page: counts last only while it stays open. Save them before you close it."));
  }
  if (counts.length === 0) return [...parts, node("p", {}, "None yet. Find a pot and enter what is up.")];
  const file = node("a", { className: "button", id: "save", download: "pipstake-counts-" + today() + ".csv",
    href: URL.createObjectURL(new Blob([countsFile()], { type: "text/csv" })) }, "Save as a file");
  file.addEventListener("click", () => {
    mark(counts, "saved");
    setTimeout(show, 500); // once the download has begun
  });
  const unsaved = counts.filter(c => !c.saved).length;
  const text = node("textarea", { id: "text", readOnly: true, rows: Math.min(12, counts.length + 1), value: countsFile() });
  text.setAttribute("aria-label", "the counts as text");
  return [...parts, node("p", {}, several(counts.length, "count") + (unsaved > 0 ? ", " + unsaved + " not saved to a file yet." : ", all saved to a file.")),
    file, node("p", {}, "At home: ", node("code", {}, "pipstake emerged --from FILE")),
    node("div", { className: "list" }, ...counts.map(countRow)),
    node("details", {}, node("summary", {}, "Show as text, to copy"), text),
    forgetButton(counts, unsaved)];
}

function countRow(c) {
  const pot = byID.get(c.id);
  const drop = node("button", { type: "button", className: "quiet" }, "Remove");
  drop.setAttribute("aria-label", "remove the count of " + c.id + " on " + c.on);
  drop.addEventListener("click", () => {
    withdraw(c);
    show();
  });
  return node("div", { className: "kept" }, pot ? link(c.id, [node("b", {}, c.id), " " + c.on + ": " + countWords(pot, c)]) : node("p", {}, c.id + " " + c.on + ": " + c.up + " up"), drop);
}

// forgetButton clears the counts at the second tap.
function forgetButton(counts, unsaved) {
  const button = node("button", { type: "button", className: "quiet", id: "forget" }, "Forget these counts");
  button.addEventListener("click", () => {
    if (button.dataset.sure) {
      counts.forEach(withdraw);
      show();
      return;
    }
    button.dataset.sure = "yes";
    button.textContent = unsaved > 0 ? unsaved + " not saved. Tap again to lose them" : "Tap again to forget them";
  });
  return button;
}

at("search").addEventListener("submit", event => {
  event.preventDefault();
  if (at("query").value.trim() === "") restart();
  else if (look(at("query").value)) at("query").blur(); // the keyboard goes
});
at("to-find").addEventListener("click", event => {
  event.preventDefault();
  restart();
});
at("query").addEventListener("input", () => {
  say("");
  if (location.hash.length > 1) history.pushState(null, "", "#");
  show();
});
window.addEventListener("hashchange", () => {
  show();
  window.scrollTo(0, 0);
});
window.addEventListener("storage", show);
window.addEventListener("beforeunload", event => {
  if (!stores && entered().some(c => !c.saved)) event.preventDefault();
});
show();
