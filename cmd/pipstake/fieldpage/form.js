// The forms by which counts, ends and notes are entered, and what is said when
// they were.

// entryWords says what an entry tells: "9 of 10 up (90 %) on 2027-03-01".
function entryWords(e) {
  const row = byID.get(e.id);
  switch (e.kind) {
    case "count": return (row ? countWords(row, e) : e.up + " up") + " on " + e.on;
    case "gone": return e.how + " on " + e.on + (e.text ? " (" + e.text + ")" : "");
  }
  return "“" + e.text + "” on " + e.on;
}

// shortWords is entryWords without what goes without saying.
function shortWords(e) {
  return e.id + ": " + entryWords(e).replace(/ \([0-9]+\u00a0%\)/, "").replace(" on " + today(), "") + ".";
}

// enter records an entry and says where it is kept.
function enter(entry) {
  record(entry);
  tellKept(entry);
}

// tellKept says where an entry is kept, never that it is where it is not. more
// is said after it.
function tellKept(entry, more) {
  const what = shortWords(entry);
  const rest = more ? " " + more : "";
  switch (whereKept(entry)) {
    case "sent":
      say("In the registry: " + what + rest, undoButton());
      return;
    case "stored":
      say("Kept in this browser: " + what + rest, undoButton());
      return;
  }
  refuse("Not kept: this browser keeps nothing for this page, and what was entered is lost when it closes. Bring it out now. " + what + rest,
    ...outButtons(), undoButton());
}

function undoButton() {
  return button("Undo", { className: "quiet", id: "undo" }, () => {
    const n = takeBack();
    redraw();
    say(n > 0 ? "Undone." : "Nothing is left to undo.");
  });
}

// countForm takes a count of a pot.
function countForm(pot) {
  const fields = countFields(pot);
  const on = dayField("on");
  const form = node("form", { className: "count", id: "count", noValidate: true }, node("h2", {}, "Count"),
    ...fields.steppers, node("label", { htmlFor: "on" }, "On"), on, node("button", { type: "submit" }, "Enter this count"));
  form.addEventListener("submit", event => {
    event.preventDefault();
    const count = fields.count(on.value);
    const why = refusal(count);
    if (why) {
      refuse(why);
      return;
    }
    enter(count);
    redraw(count);
  });
  return form;
}

// countFields are the numbers of a count, which start from those known, and the
// count that they make on a day.
function countFields(pot) {
  const last = countsOf(pot.id).at(-1) || { up: 0, died: 0 };
  const up = numberField("up", last.up || 0, pot.seeds);
  const died = numberField("died", last.died, pot.seeds);
  return {
    steppers: [stepper("Up, in all", up), stepper("Died of these", died)],
    count: on => ({ kind: "count", id: pot.id, on, up: up.valueAsNumber, died: died.value === "" ? 0 : died.valueAsNumber }),
    touched: () => up.valueAsNumber !== (last.up || 0) || died.valueAsNumber !== last.died,
  };
}

// otherForms take an end and a note of anything, folded away.
function otherForms(row) {
  const over = endOf(row);
  return node("div", { className: "others" }, over || row.void ? "" : goneForm(row), noteForm(row));
}

function goneForm(row) {
  const how = node("select", { id: "how" }, ...season.fates[row.level].map(fate => node("option", { value: fate }, fate)));
  const on = dayField("gone-on");
  const text = node("input", { type: "text", id: "reason", maxLength: 200 });
  const form = node("form", { noValidate: true }, labelled("How", how), labelled("Why, where known", text), labelled("On", on),
    node("button", { type: "submit" }, "Enter the end"));
  form.addEventListener("submit", event => {
    event.preventDefault();
    const entry = { kind: "gone", id: row.id, on: on.value, how: how.value, text: tidyText(text.value) };
    const why = refusedEnd(row, entry) || refusedText(entry.text);
    if (why) {
      refuse(why);
      return;
    }
    enter(entry);
    redraw(entry);
  });
  return node("details", { id: "gone" }, node("summary", {}, "It ended"), form);
}

function refusedEnd(row, entry) {
  if (!isDay(entry.on)) return "Give the day.";
  if (entry.how === "culled" && entry.text === "") return "Say why it was culled.";
  const first = row.pricked || row.sown || row.extracted || row.pollinated;
  if (first && entry.on < first) return "It began on " + first + ". Look at the day.";
  return "";
}

function noteForm(row) {
  const on = dayField("note-on");
  const before = entriesOf(row.id).find(e => e.kind === "note" && e.on === today());
  const text = node("textarea", { id: "note", rows: 3, maxLength: 500, value: before ? before.text : "" });
  const form = node("form", { noValidate: true }, labelled("Note", text), labelled("On", on), node("button", { type: "submit" }, "Enter the note"));
  form.addEventListener("submit", event => {
    event.preventDefault();
    const entry = { kind: "note", id: row.id, on: on.value, text: tidyText(text.value) };
    const why = entry.text === "" ? "Write what is to be noted." : isDay(entry.on) ? refusedText(entry.text) : "Give the day.";
    if (why) {
      refuse(why);
      return;
    }
    enter(entry);
    redraw(entry);
  });
  return node("details", { id: "remark" }, node("summary", {}, "A note"), form);
}

// tidyText puts a text on one line, and other quotation marks into it.
function tidyText(text) {
  return text.replace(/["“”„]/g, "'").replace(/[\p{Cc}\s]+/gu, " ").trim();
}

// refusedText says why a text cannot go home by a command, "" where it can.
function refusedText(text) {
  return isText(text) ? "" : "Leave out $ ` \\ ! and a second %: the text goes home on a command line, where they mean something else.";
}

function labelled(text, field) {
  return node("div", {}, node("label", { htmlFor: field.id }, text), field);
}

function dayField(id) {
  return node("input", { type: "date", id, value: today(), required: true });
}

function numberField(id, value, most) {
  const input = node("input", { type: "number", id, value, min: 0, step: 1, inputMode: "numeric", required: true });
  if (most !== undefined) input.max = most;
  return input;
}

// stepper puts a number between buttons that a thumb hits.
function stepper(label, input) {
  const step = (sign, by) => {
    const b = button(sign, { className: "step" }, () => {
      const most = input.max === "" ? Infinity : Number(input.max);
      input.value = Math.min(most, Math.max(0, (input.valueAsNumber || 0) + by));
    });
    b.setAttribute("aria-label", (by < 0 ? "one less: " : "one more: ") + label);
    return b;
  };
  return node("div", { className: "stepper" }, node("label", { htmlFor: input.id }, label), step("−", -1), input, step("+", 1));
}
