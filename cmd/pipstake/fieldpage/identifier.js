// Identifiers, read as leniently as the program reads them: case, missing
// hyphens, spaces, look-alike dashes, × for X, O and I where a digit must stand.
// The check character is that of ISO/IEC 7064 MOD 37,36.

const letters = "ABCDEFGHJKLMNPQRSTUVWXYZ"; // without I and O
const checkAlphabet = "0123456789ABCDEFGHIJKLMNOPQRSTUVWXYZ";
const dashes = "\u00ad\u058a\u2010\u2011\u2012\u2013\u2014\u2015\u2043\u2212\u2796\ufe58\ufe63\uff0d";
const timesSigns = "×✕✖⨯";
const spaces = /[\t-\r \u0085\u00a0\u1680\u2000-\u200a\u2028\u2029\u202f\u205f\u3000\u180e\u200b-\u200d\u2060\ufeff]/;
const twins = { "0": "O", "O": "0", "1": "I", "I": "1" };
const likeThis = "write it like 2026X012-B2";

// Misread says why a text is no identifier. kind is "check" for a wrong check
// character, else "text".
class Misread extends Error {
  constructor(kind, message) {
    super(message);
    this.kind = kind;
  }
}

function fail(reason, remedy) {
  throw new Misread("text", reason + "; " + remedy);
}

function checkCharacter(text) {
  let p = 36;
  for (const c of text) {
    p += checkAlphabet.indexOf(c);
    if (p > 36) p -= 36;
    p = p * 2 % 37;
  }
  return checkAlphabet[(37 - p) % 36];
}

// withCheck writes an identifier as labels carry it: "2026X012-B2.3".
function withCheck(id) {
  return id + "." + checkCharacter(id.replaceAll("-", ""));
}

// foldCharacter gives what a character is read as, "" for none.
function foldCharacter(c) {
  const code = c.codePointAt(0);
  if (code >= 0xff01 && code <= 0xff5e && code !== 0xff0d) c = String.fromCodePoint(code - 0xff01 + 0x21);
  if (/^[A-Za-z0-9.-]$/.test(c)) return c.toUpperCase();
  if (spaces.test(c)) return " ";
  if (dashes.includes(c)) return "-";
  if (timesSigns.includes(c)) return "X";
  return "";
}

// Reader walks over the characters of a text.
class Reader {
  constructor(text) {
    if (new TextEncoder().encode(text).length > 200) fail("this is too long for an identifier", likeThis);
    this.glyphs = [];
    for (const orig of text) {
      const char = foldCharacter(orig);
      if (char === "") fail("“" + orig + "” stands in no identifier", "use only letters A to Z, digits and hyphens");
      this.glyphs.push({ char, orig });
    }
    while (this.glyphs.length && this.glyphs[0].char === " ") this.glyphs.shift();
    while (this.glyphs.length && this.glyphs.at(-1).char === " ") this.glyphs.pop();
    this.at = 0;
    this.notices = new Set();
    for (const g of this.glyphs) {
      if (g.char === " ") this.notices.add("left out a space");
      else if (g.orig > "\u007f") this.notices.add("read “" + g.orig + "” as " + g.char);
    }
  }

  peek() { return this.at < this.glyphs.length ? this.glyphs[this.at].char : ""; }

  spaces() { while (this.peek() === " ") this.at++; }

  // digit reads a digit, or an O or I in the place of one; where one must
  // stand, a small l as well. It gives -1 where there is none.
  digit(must) {
    const c = this.peek();
    if (c >= "0" && c <= "9") {
      this.at++;
      return Number(c);
    }
    const orig = c && this.glyphs[this.at].orig;
    let twin = "";
    if (c === "O") twin = "0";
    else if (c === "I" || c === "L" && must && orig === "l") twin = "1";
    if (twin === "") return -1;
    this.notices.add("read “" + orig + "” as the digit " + twin);
    this.at++;
    return Number(twin);
  }

  year() {
    let year = "";
    for (let i = 0; i < 4; i++) {
      const d = this.digit(true);
      if (d < 0) fail("a year of four digits comes first", likeThis);
      year += d;
    }
    if (year[0] === "0") fail("no year starts with 0", likeThis);
    if (this.peek() !== "X") fail("the letter X comes after the year", likeThis);
    this.at++;
    return year;
  }

  cross() {
    let n = "";
    while (n.length <= 5) {
      const d = this.digit(n.length < 3);
      if (d < 0) break;
      n += d;
    }
    if (n.length > 5) fail("the number of a cross has at most 5 digits", likeThis);
    if (n.length < 3) fail("the number of a cross has at least 3 digits", likeThis);
    if (Number(n) === 0) fail("crosses are numbered from 1", "write the cross’s own number");
    if (n.length > 3 && n[0] === "0") fail("a leading zero too many in the number of the cross", likeThis);
    return n;
  }

  letters(level) {
    let s = "";
    while (this.peek() && letters.includes(this.peek())) {
      s += this.peek();
      this.at++;
      if (s.length > 2) fail("a " + level + " has at most 2 letters", likeThis);
    }
    if (s === "") fail("the letter of a " + level + " comes here", "I and O are left out");
    return s;
  }

  pot() {
    let n = "";
    for (let d = this.digit(false); d >= 0; d = this.digit(false)) {
      n += d;
      if (Number(n) > 9999) fail("pots are numbered up to 9999", likeThis);
    }
    if (Number(n) === 0) fail("pots are numbered from 1", likeThis);
    if (n[0] === "0") fail("a leading zero too many in the number of the pot", likeThis);
    return n;
  }

  // separator reads a hyphen, or spaces, or nothing, and tells whether more of
  // the identifier follows.
  separator(level) {
    this.spaces();
    const hyphen = this.peek() === "-";
    if (hyphen) {
      this.at++;
      this.spaces();
    }
    if (this.peek() !== "" && this.peek() !== ".") return true;
    if (hyphen) fail("nothing follows the hyphen", "add the letter of the " + level + ", or leave the hyphen out");
    return false;
  }

  potFollows() {
    const start = this.at;
    this.spaces();
    const c = this.peek();
    if (c === "" || c === ".") return false;
    if (this.at === start && /[0-9IO]/.test(c)) return true;
    return fail("a pot’s number follows its seed lot directly", likeThis);
  }

  identifier() {
    if (this.glyphs.length === 0) fail("nothing is there", likeThis);
    let id = this.year() + "X" + this.cross();
    if (!this.separator("seed lot")) return id;
    id += "-" + this.letters("seed lot");
    if (!this.potFollows()) return id;
    id += this.pot();
    if (!this.separator("seedling")) return id;
    return id + "-" + this.letters("seedling");
  }

  // check reads the check character after its full stop, and the end. It tells
  // whether one stood there.
  check(id) {
    this.spaces();
    if (this.peek() === "") return false;
    if (this.peek() !== ".") fail("the identifier ends before “" + this.glyphs[this.at].orig + "”", "write " + id);
    this.at++;
    const got = this.peek();
    if (got === "" || !checkAlphabet.includes(got)) fail("the check character is missing after the full stop", "write " + id);
    const orig = this.glyphs[this.at].orig;
    this.at++;
    if (this.peek() !== "") fail("nothing comes after the check character", "write " + id);
    const want = checkCharacter(id.replaceAll("-", ""));
    if (got === want) return true;
    if (twins[got] === want || orig === "l" && want === "1") {
      this.notices.add("read the check character “" + orig + "” as " + want);
      return true;
    }
    throw new Misread("check", "the check character " + got + " is wrong: " + id + " ends in " + want + ". Read the label again; one character was misread or mistyped");
  }
}

// readIdentifier reads an identifier, with or without its check character. It
// throws a Misread.
function readIdentifier(text) {
  const r = new Reader(text);
  const id = r.identifier();
  const checked = r.check(id);
  return { id, checked, notices: [...r.notices] };
}

// blank are the characters that end the identifier in a code.
const blank = /[\t-\r \u0085\u00a0\u1680\u2000-\u200a\u2028\u2029\u202f\u205f\u3000]/;

// readCode reads what a scanner sent or a person typed: an identifier, or the
// whole text of a label’s code. It throws a Misread.
function readCode(text) {
  const trim = new RegExp("^" + blank.source + "+|" + blank.source + "+$", "g");
  text = text.replace(trim, "");
  if ([...text].length > 195) fail("this is longer than any label’s code", "scan one code at a time");
  const cut = text.search(new RegExp("/|" + blank.source));
  const head = cut < 0 ? text : text.slice(0, cut);
  let rest = cut < 0 ? "" : text.slice(cut);
  let read = null;
  let why = null;
  try {
    read = readIdentifier(head);
  } catch (e) {
    why = e;
  }
  if (why || rest !== "" && !read.checked) {
    try {
      return { copy: 0, ...readIdentifier(text) }; // "2026X012 - B2"
    } catch {
      throw why || new Misread("text", "the check character is missing before the rest; scan the code, or give " + read.id + " alone");
    }
  }
  let copy = 0;
  if (rest[0] === "/") {
    const digits = rest.slice(1).split(blank)[0];
    if (!/^[1-9][0-9]?$/.test(digits)) fail("“" + digits + "” is not the number of a copy", "write /1 or /2, or leave it out");
    copy = Number(digits);
    rest = rest.slice(1 + digits.length);
  }
  for (const c of rest) {
    if (!blank.test(c) && !/^[0-9A-Za-z$%*+./:-]$/.test(c)) fail("“" + c + "” is in no label’s code", "give the identifier alone");
  }
  return { copy, ...read };
}
