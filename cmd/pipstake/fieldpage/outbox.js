// What was entered and is to be brought home: as a file of counts, which
// pipstake emerged --from takes in, and as commands for ends and notes.

// toBring gives the entries that are not at home yet.
function toBring() {
  return entered().filter(e => !e.sent);
}

// countsFile is the CSV file of the counts. It says which registry they are for.
function countsFile() {
  const lines = toBring().filter(e => e.kind === "count").map(c => [withCheck(c.id), c.on, c.up, c.died || "", season.identity].join(","));
  return ["pot,on,up,died,registry", ...lines].join("\r\n") + "\r\n";
}

// commands are the lines that record ends and notes, as any computer’s command
// line takes them.
function commands() {
  return toBring().filter(e => e.kind !== "count").map(e => {
    if (e.kind === "note") return "pipstake note " + e.id + " \"" + e.text + "\" --on " + e.on;
    return "pipstake gone " + e.id + " --how " + e.how + " --on " + e.on + (e.text ? " --note \"" + e.text + "\"" : "");
  });
}

function has(kind) {
  return toBring().some(e => (e.kind === "count") === (kind === "count"));
}

// outFiles are the files that hold all that is to be brought.
function outFiles() {
  const files = [];
  if (has("count")) files.push(new File([countsFile()], "pipstake-counts-" + today() + ".csv", { type: "text/csv" }));
  if (has("other")) files.push(new File([commands().join("\r\n") + "\r\n"], "pipstake-commands-" + today() + ".txt", { type: "text/plain" }));
  return files;
}

// outButtons save and, where the browser can, share what was entered.
function outButtons() {
  return [shareButton(), ...outFiles().map(saveButton)].filter(Boolean);
}

// saveButton hands a file to the browser, to be saved.
function saveButton(file) {
  const counts = file.name.endsWith(".csv");
  const a = node("a", { className: "button", download: file.name, href: URL.createObjectURL(file) }, counts ? "Save the counts as a file" : "Save the commands as a file");
  if (counts) a.id = "save";
  a.addEventListener("click", () => {
    const given = toBring().filter(e => (e.kind === "count") === counts);
    setTimeout(() => { // once the download has begun
      mark(given, "saved");
      redraw();
      say("Handed to the browser as " + file.name + ". See that it is there before you forget it here.");
    }, 500);
  });
  return a;
}

// shareButton hands the files to another app of the phone; null where the
// browser shares nothing.
function shareButton() {
  if (!navigator.share) return null;
  return button("Share", { id: "share" }, async () => {
    const given = toBring();
    const files = outFiles();
    const asFiles = { files, title: "pipstake " + season.registry };
    const asText = { text: [has("count") ? countsFile() : "", ...commands()].filter(Boolean).join("\n"), title: "pipstake " + season.registry };
    try {
      await navigator.share(navigator.canShare && navigator.canShare(asFiles) ? asFiles : asText);
    } catch (e) {
      if (e.name !== "AbortError") refuse("It could not be shared (" + e.name + "). Save it as a file, or copy the text.");
      return;
    }
    mark(given, "saved");
    redraw();
    say("Shared.");
  });
}

// enteredSheet lists what was entered, with what can be done.
function enteredSheet() {
  const all = entered();
  const parts = [title("Entered here")];
  if (!stores) {
    parts.push(node("p", { className: "wrong", id: "unkept" }, "This browser keeps nothing for this page: what is entered lasts only while it stays open. Save or share it before you close it."));
  }
  if (all.length === 0) return [...parts, node("p", {}, "Nothing yet. Find a pot, or walk along them, and enter what is up.")];
  const open = toBring();
  const unsaved = open.filter(e => !e.saved).length;
  const counts = all.filter(e => e.kind === "count").length;
  const numbers = [counts > 0 ? several(counts, "count") : "", all.length > counts ? several(all.length - counts, "end or note").replace("end or notes", "ends or notes") : ""].filter(Boolean).join(", ");
  const where = open.length === 0 ? "all in the registry" : unsaved > 0 ? unsaved + " not saved to a file yet" : "all saved to a file";
  return [...parts, node("p", {}, numbers + ", " + where + "."),
    ...outButtons(), ...waysHome(),
    node("div", { className: "list" }, ...all.map(entryRow)),
    forgetButton(all, unsaved)];
}

// waysHome says how it is taken in at home.
function waysHome() {
  const parts = [];
  if (has("count")) {
    parts.push(node("p", {}, "Counts, at home: ", node("code", {}, "pipstake emerged --from FILE")),
      asText("Show the counts as text, to copy", "text", countsFile()));
  }
  if (has("other")) parts.push(node("p", {}, "Ends and notes, at home: these commands."), asText("Show the commands, to copy", "commands", commands().join("\n")));
  return parts;
}

function asText(summary, id, value) {
  const text = node("textarea", { id, readOnly: true, rows: Math.min(12, value.split("\n").length + 1), value });
  text.setAttribute("aria-label", summary.replace("Show ", ""));
  const copy = navigator.clipboard ? button("Copy", { className: "quiet" }, async () => {
    try {
      await navigator.clipboard.writeText(value);
      say("Copied.");
    } catch {
      text.select();
      say("Copy what is marked.");
    }
  }) : "";
  return node("details", {}, node("summary", {}, summary), text, copy);
}

const keptAs = { sent: "in the registry", saved: "saved to a file", stored: "kept in this browser only", nowhere: "on this open page only" };

function entryRow(e) {
  const row = byID.get(e.id);
  const remove = button("Remove", { className: "quiet" }, () => {
    withdraw(e);
    redraw();
    say("Removed: " + shortWords(e), undoButton());
    at("undo").focus();
  });
  remove.setAttribute("aria-label", "remove " + e.kind + " of " + e.id + " on " + e.on);
  const words = [node("b", {}, e.id), " " + entryWords(e), node("small", { className: "where" }, keptAs[whereKept(e)])];
  return node("div", { className: "kept" }, row ? link(e.id, words) : node("p", {}, ...words), remove);
}

// forgetButton clears the entries at the second tap.
function forgetButton(all, unsaved) {
  const tapped = button("Forget all of it here", { className: "quiet", id: "forget" }, () => {
    if (tapped.dataset.sure) {
      forget(...all);
      redraw();
      say("Forgotten.", undoButton());
      return;
    }
    tapped.dataset.sure = "yes";
    tapped.textContent = unsaved > 0 ? unsaved + " not saved. Tap again to lose them" : "Tap again to forget them";
  });
  return tapped;
}
