// A page that was served sends every entry home at once, to the computer that
// served it, and again until it is there. What the registry does not take is shown
// above everything else until somebody has decided.

const queue = new Map(); // what is to be sent, by keyOf: { entry, withdrawn, instead }
const atHome = new Map(); // entries that the registry has from here, by keyOf
const stuck = new Map(); // what was not taken, by keyOf: { entry, answer }
const firstWait = 4; // seconds until it is tried again, and twice as long each time
const longestWait = 60;
let sending = false;
let lost = ""; // why the last try failed, "" where it did not
let wait = firstWait;
let again = 0;

listeners.push((what, entry, before) => {
  const key = keyOf(entry);
  stuck.delete(key);
  if (what === "recorded") enqueue(entry, before);
  else if (what === "withdrawn" && (atHome.has(key) || sending)) queue.set(key, { entry, withdrawn: true });
  else queue.delete(key);
  if (what === "forgotten") atHome.delete(key);
  sendAll();
});

// enqueue puts an entry into the queue. An end or a note that is changed is taken
// back first; a count says which one it takes the place of.
function enqueue(entry, before) {
  const key = keyOf(entry);
  if (before && before.sent && !atHome.has(key)) atHome.set(key, before);
  const had = atHome.get(key);
  if (had && entry.kind !== "count") queue.set("former " + key, { entry: had, withdrawn: true });
  queue.set(key, { entry });
}

// asSent is what goes over the network of something in the queue.
function asSent({ entry, withdrawn, instead }) {
  const { kind, id, on, up, died, how, text } = entry;
  const had = atHome.get(keyOf(entry));
  if (!instead && had && kind === "count") instead = had;
  return { kind, id, on, up, died, how, text, withdrawn: Boolean(withdrawn), instead: instead && { up: instead.up, died: instead.died } };
}

// sendAll sends all that is in the queue, one request after the other.
async function sendAll() {
  clearTimeout(again);
  if (sending || queue.size === 0) {
    tellHome();
    return;
  }
  sending = true;
  const batch = [...queue].slice(0, 200);
  try {
    const answers = await post(batch.map(([, item]) => asSent(item)));
    lost = "";
    wait = firstWait;
    batch.forEach(([key, item], i) => settle(key, item, answers[i]));
  } catch (e) {
    lost = e instanceof HomeError ? e.message : "The computer cannot be reached just now.";
  }
  sending = false;
  if (lost) {
    again = setTimeout(sendAll, 1000 * wait);
    wait = Math.min(longestWait, 2 * wait);
  } else if (queue.size > 0) {
    sendAll();
    return;
  }
  tellHome();
}

// HomeError is an answer of the computer that is none to the entries.
class HomeError extends Error {}

const refusals = {
  404: "The page is not served at this address any more: scan the code on the computer again.",
  429: "The computer was asked too often for a moment.",
};

async function post(entries) {
  const response = await fetch("entries", { method: "POST", headers: { "Content-Type": "application/json" }, body: JSON.stringify({ entries }),
    cache: "no-store", credentials: "omit", redirect: "error", referrerPolicy: "same-origin" });
  if (!response.ok) throw new HomeError(refusals[response.status] || "The computer did not take it (" + response.status + ").");
  const { answers } = await response.json();
  if (!Array.isArray(answers) || answers.length !== entries.length) throw new HomeError("The computer’s answer cannot be read.");
  return answers;
}

// settle does what an answer says. What was changed here since it was sent stays
// in the queue.
function settle(key, item, answer) {
  const home = keyOf(item.entry);
  const changed = queue.get(key) !== item;
  if (answer.state === "later") {
    lost = answer.said + ".";
    return;
  }
  if (!changed) queue.delete(key);
  if (answer.state !== "recorded") {
    if (!changed) stuck.set(key, { ...item, answer });
    return;
  }
  if (item.withdrawn) {
    atHome.delete(home);
    return;
  }
  atHome.set(home, item.entry);
  if (changed) return;
  mark([item.entry], "sent");
  tellSent(item.entry);
}

// tellSent puts right what the foot of the page says of an entry.
function tellSent(entry) {
  const first = at("said").firstChild;
  const kept = "Kept in this browser: ";
  if (first && first.nodeType === Node.TEXT_NODE && first.data.startsWith(kept) && at("said").textContent.includes(entry.id)) {
    first.data = "In the registry: " + first.data.slice(kept.length);
  } else if (at("wrong").textContent.startsWith("Not kept: ") && at("wrong").textContent.includes(entry.id)) {
    tellKept(entry);
  }
}

// home shows what goes on between this page and the computer.
const home = node("div", { id: "home" });
const homeLine = node("p", { id: "home-line" });
homeLine.setAttribute("role", "status");
const homeStuck = node("div", { id: "home-stuck" });
homeStuck.setAttribute("role", "alert");
home.append(homeLine, homeStuck);
document.querySelector("header").after(home);

function tellHome() {
  const n = queue.size;
  const waits = n === 0 ? "" : several(n, "entry").replace("entrys", "entries") + (n === 1 ? " waits" : " wait") + " to be sent. ";
  const line = n === 0 ? "Entries go into the registry at once." : lost ? waits + lost + " It is tried again by itself." : waits;
  if (homeLine.textContent !== line) homeLine.textContent = line;
  homeLine.className = n > 0 && lost ? "wrong" : "";
  const shown = JSON.stringify([...stuck]);
  if (homeStuck.dataset.shown !== shown) {
    homeStuck.dataset.shown = shown;
    homeStuck.replaceChildren(...[...stuck].map(([key, s]) => stuckBox(key, s)));
  }
  if (where().view === "counts") show();
  else showTabs(where().view);
}

// stuckBox asks what is to become of an entry that was not taken.
function stuckBox(key, s) {
  const { entry, answer } = s;
  if (answer.state === "clash") return clashBox(key, s);
  const drops = s.withdrawn ? "Leave it so" : "Remove it here";
  const hint = !answer.hint ? "" : node("p", {}, (answer.hint.includes("pipstake ") ? "At the computer: " : "What helps: ") + answer.hint + ".");
  return node("div", { className: "stuck" },
    node("p", { className: "wrong" }, (s.withdrawn ? "Not taken back: " : "Not recorded: ") + entry.id + ": " + entryWords(entry) + ". " + answer.said + "."),
    hint, node("div", { className: "ways" },
      button("Try again", {}, () => decide(key, () => queue.set(key, s))),
      button(drops, { className: "quiet" }, () => decide(key, () => s.withdrawn ? null : withdraw(entry)))));
}

// clashBox asks which of two counts of a pot and day is right: that of the
// registry, from another phone or typed at home, or the one from here.
function clashBox(key, { entry, answer }) {
  const row = byID.get(entry.id);
  const words = c => row ? countWords(row, c) : c.up + " up";
  return node("div", { className: "stuck" },
    node("p", { className: "wrong" }, "Two counts of " + entry.id + " on " + entry.on + ": the registry has " + words(answer.there) + ", and here it is " + words(entry) + ". Which is right?"),
    node("div", { className: "ways" },
      button("Here: " + entry.up + " up", { className: "mine" }, () => decide(key, () => queue.set(key, { entry, instead: answer.there }))),
      button("Registry: " + answer.there.up + " up", { className: "theirs" }, () => decide(key, () => takeTheirs(entry, answer.there)))));
}

// takeTheirs leaves a count to the registry, and shows that one from now on.
function takeTheirs(entry, there) {
  const row = byID.get(entry.id);
  if (row) row.counts = [...(row.counts || []).filter(c => c.on !== entry.on), { on: entry.on, ...there }];
  withdraw(entry);
  redraw();
}

// decide does what was decided on something that was stuck.
function decide(key, act) {
  stuck.delete(key);
  act();
  sendAll();
}

for (const e of entered()) {
  if (e.sent) atHome.set(keyOf(e), e);
  else queue.set(keyOf(e), { entry: e });
}
window.addEventListener("online", sendAll);
document.addEventListener("visibilitychange", () => {
  if (!document.hidden) sendAll();
});
sendAll();
