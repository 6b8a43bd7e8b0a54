// Finding: what is typed names one thing, or words that narrow each other.

const listStep = 40; // that many are listed, and more when asked for
let listed = listStep;
let showOver = false; // what is void or ended is listed, too

// plainText is a text without case, accents and hyphens, to be looked for.
function plainText(text) {
  const plain = { "ł": "l", "ø": "o", "æ": "ae", "œ": "oe", "ß": "ss", "đ": "d", "ð": "d", "þ": "th", "ı": "i" };
  return text.normalize("NFD").toLowerCase().replace(/\p{M}|[\s'’-]/gu, "").replace(/[łøæœßđðþı]/g, c => plain[c]);
}

// index has, of every row, its identifier and the names under which it is
// found: its place, and the parents of its cross. vocabulary has the words of
// all names as they are written.
const vocabulary = new Map();
const index = [...byID.values()].map(row => {
  const cross = crossOf(row.id);
  const names = [cross && cross.seed, cross && cross.pollen, row.place, row.name].filter(Boolean);
  return { row, id: plainText(row.id), names: names.map(namePlain).join("\n") };
});

function namePlain(name) {
  for (const word of name.split(/[\s,/()-]+/)) {
    const plain = plainText(word);
    if (plain.length > 2 && !vocabulary.has(plain)) vocabulary.set(plain, word);
  }
  return plainText(name);
}

// matches gives the rows that hold every word of a text in their identifier,
// parents or place; or the whole of it.
function matches(text) {
  const fold = t => plainText([...t].map(c => foldCharacter(c) || c).join(""));
  const words = [...new Set(text.split(/\s+/).map(fold).filter(Boolean))];
  const whole = fold(text);
  if (whole === "") return [];
  const asDigits = w => w.replaceAll("o", "0").replaceAll("i", "1");
  const holds = (e, w) => e.id.includes(w) || e.id.includes(asDigits(w)) || e.names.includes(w);
  return index.filter(e => words.every(w => holds(e, w)) || holds(e, whole)).map(e => e.row);
}

// nearWords gives the text with its words put as names are spelt, where that
// finds something; "" where nothing is near.
function nearWords(text) {
  const words = text.trim().split(/\s+/).map(word => {
    const plain = plainText(word);
    if (matches(word).length > 0 || plain.length < 3) return word;
    let best = null;
    for (const [known, written] of vocabulary) {
      const most = plain.length < 6 ? 1 : 2;
      const d = distance(plain, known, most);
      if (d <= most && (!best || d < best.d)) best = { d, written };
    }
    return best ? best.written : word;
  });
  const near = words.join(" ");
  return near !== text.trim() && matches(near).length > 0 ? near : "";
}

// distance counts the letters that are wrong, missing, too many or exchanged
// with the next; more than most where they are more.
function distance(a, b, most) {
  if (Math.abs(a.length - b.length) > most) return most + 1;
  let [before, last] = [[], Array.from({ length: b.length + 1 }, (_, k) => k)];
  for (let i = 1; i <= a.length; i++) {
    const row = [i];
    for (let k = 1; k <= b.length; k++) {
      row[k] = Math.min(last[k] + 1, row[k - 1] + 1, last[k - 1] + (a[i - 1] === b[k - 1] ? 0 : 1));
      if (i > 1 && k > 1 && a[i - 1] === b[k - 2] && a[i - 2] === b[k - 1]) row[k] = Math.min(row[k], before[k - 2] + 1);
    }
    [before, last] = [last, row];
  }
  return last[b.length];
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
    const found = e.kind === "check" ? [] : matches(text);
    list(found);
    if (found.length > 0) say(several(found.length, "match") + ".");
    else if (e.kind === "check" || /^\s*[0-9]/.test(text)) refuse("“" + text + "”: " + e.message + ".");
    else tellNothing(text);
    return false;
  }
  const notice = read.notices.length > 0 ? "Read as " + read.id + ": " + read.notices.join(", ") + "." : "";
  if (!byID.has(read.id)) {
    list([]);
    refuse(read.id + " is not in the registry as of " + season.made + ". " + notice);
    return false;
  }
  goTo(read.id, notice);
  return true;
}

// tellNothing says that nothing bears a name, and offers one that is near.
function tellNothing(text) {
  const near = nearWords(text);
  refuse("Nothing is called “" + text.trim() + "”." + (near ? " Near it is “" + near + "”." : ""),
    ...near ? [button("Find " + near, { id: "near" }, () => {
      at("query").value = near;
      look(near);
    })] : []);
}

// idsOf gives the identifiers of the codes that were read, those of this
// registry only.
function idsOf(texts) {
  const ids = [];
  for (const text of texts) {
    try {
      const { id } = readCode(text);
      if (byID.has(id) && !ids.includes(id)) ids.push(id);
    } catch (e) {
      if (!(e instanceof Misread)) throw e;
    }
  }
  return ids;
}

// takeFound answers codes that were scanned: one by its sheet, several by a
// list. It tells whether there was anything.
function takeFound(texts) {
  const ids = idsOf(texts);
  if (ids.length === 0) return look(texts[0]);
  if (navigator.vibrate) navigator.vibrate(60);
  at("query").value = ids.length === 1 ? ids[0] : "";
  if (ids.length === 1) return look(texts.find(text => idsOf([text]).length > 0));
  if (location.hash.length > 1) history.pushState(null, "", "#");
  show();
  list(ids.map(id => byID.get(id)), true);
  say(several(ids.length, "label") + " on the picture.");
  return true;
}

// list shows rows, at first those that go on and not too many.
function list(rows, all) {
  const over = all || showOver ? [] : rows.filter(isOver);
  const shown = over.length > 0 ? rows.filter(row => !isOver(row)) : rows;
  const items = shown.slice(0, listed).map(row => link(row.id, summary(row)));
  const again = change => () => {
    const n = at("found").querySelectorAll("a").length;
    change();
    list(rows, all);
    const next = at("found").querySelectorAll("a")[n];
    if (next) next.focus();
  };
  if (shown.length > listed) {
    items.push(button("Show more: " + (shown.length - listed) + " are left", { className: "quiet", id: "more" }, again(() => { listed += listStep; })));
  }
  if (over.length > 0 || showOver && rows.some(isOver)) {
    const b = button(showOver ? "Hide what has ended" : "Show what has ended: " + over.length, { className: "quiet", id: "over" }, again(() => { showOver = !showOver; }));
    b.setAttribute("aria-pressed", String(showOver));
    items.push(b);
  }
  at("found").replaceChildren(...items);
}
