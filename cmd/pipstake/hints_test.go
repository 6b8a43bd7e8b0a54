package main

import (
	"bytes"
	"fmt"
	"maps"
	"os"
	"path/filepath"
	"regexp"
	"slices"
	"strings"
	"testing"
	"time"

	"pipstake/ids"
	"pipstake/ids/registry"
	"pipstake/layout/proof/outside"
)

// Every command that the program proposes, wherever it does, is pasted into a shell
// in another folder than that of the registry, and run on a registry in just that
// state: it is refused neither by the shell nor by the program, and does no harm. No
// text of the program that proposes a command may go without a state in which it is
// printed.
func TestEveryHintWorksAndHarmsNothing(t *testing.T) {
	t.Parallel()
	if testing.Short() {
		t.Skip("takes long")
	}
	w := &hintWalk{said: map[string]bool{}}
	w.season(t)
	for _, c := range hintStates {
		t.Run(c.name, func(t *testing.T) { w.state(t, c) })
	}
	for where, text := range proposals(t) {
		if !w.printed(text) && printedElsewhere[text] == "" {
			t.Errorf("%s: no state prints %q", where, text)
		}
	}
}

// printedElsewhere are the texts that come of what a line cannot play, and where
// they are seen.
var printedElsewhere = map[string]string{
	"do not run the command again; pipstake history shows what it did":         "standard output is full: TestSaidAndSavedAreOne",
	"pipstake labels --batch %d --out FILE":                                    "the folder went away while the sheet was drawn: script disk",
	"pipstake undo takes back one command after the other":                     "another program wrote during a session: script scanner",
	"pipstake emerged --place ":                                                "asked on a terminal, as in script rounds",
	"sow some first: pipstake sow LOT":                                         "asked on a terminal, as in script rounds",
	"pipstake scan: what these codes say is done to the label scanned last":    "the title of a PDF",
	"look at them: pipstake history; to take the last one back: pipstake undo": "phones have sent entries: TestServedEntriesAreRecorded",
	"pipstake init OF":               "where none is found it is asked first where it is: script registry",
	"run pipstake check --fix again": "another program wrote while the user was asked: script fix",
}

// hintRegistry is the folder that stands for "orchard" in what is run: a name that a
// shell takes for many other things.
const hintRegistry = "-orch [ard] \"it's\" $x `y` !z"

// inOrchard puts the folder of the registry into an argument.
func inOrchard(arg string) string {
	if rest, ok := strings.CutPrefix(arg, "orchard"); ok && (rest == "" || rest[0] == '/') {
		return "./" + hintRegistry + rest
	}
	return arg
}

// hintWalk keeps what was said on the way, and the season as it was after each of
// its steps.
type hintWalk struct {
	said   map[string]bool
	places map[string]string // the folder after a step that has a name
	tried  int
}

// season plays the season from its first day, and tries what each step proposes.
func (w *hintWalk) season(t *testing.T) {
	t.Helper()
	dir := t.TempDir()
	w.places = map[string]string{"nothing": copyOf(t, dir)}
	for line := range strings.Lines(hintSeason) {
		line = strings.TrimSpace(line)
		if name, ok := strings.CutPrefix(line, "= "); ok {
			w.places[name] = copyOf(t, dir)
			continue
		}
		w.step(t, dir, line, hintState{}, fine)
	}
}

// state brings the season into a state, and tries what a line says in it.
func (w *hintWalk) state(t *testing.T, c hintState) {
	from, known := w.places[c.after]
	if !known {
		t.Fatalf("there is no step %q", c.after)
	}
	dir := copyOf(t, from)
	for name, text := range c.files {
		text = noCheckYet.ReplaceAllStringFunc(text, func(id string) string {
			read, err := ids.Parse(strings.TrimSuffix(id, "."))
			if err != nil {
				t.Fatal(err)
			}
			return read.ID.WithCheck()
		})
		if err := os.WriteFile(filepath.Join(dir, name), []byte(text), 0o644); err != nil {
			t.Fatal(err)
		}
	}
	for line := range strings.Lines(c.lines) {
		w.step(t, dir, strings.TrimSpace(line), c, anyStatus)
	}
	if c.then != "" { // what a hint says in words
		if got, said := w.run(t, dir, c.then); got != fine {
			t.Errorf("%q: status %d: %s", c.then, got, said)
		}
	}
}

// noCheckYet is an identifier that a check character is to follow.
var noCheckYet = regexp.MustCompile(`2026X[0-9A-Z-]+\.`)

const anyStatus status = -1

// step runs a line "DAY command…", or "edit FILE OLD NEW", and tries all that is
// proposed; after "+ " it must be fine, and nothing is tried.
func (w *hintWalk) step(t *testing.T, dir, line string, c hintState, want status) {
	t.Helper()
	if rest, ok := strings.CutPrefix(line, "edit "); ok {
		edit(t, dir, lineWords(t, rest))
		return
	}
	line, setup := strings.CutPrefix(line, "+ ")
	day, _, _ := strings.Cut(line, " ")
	got, said := w.run(t, dir, line)
	if want != anyStatus && got != want {
		t.Fatalf("%s: status %d: %s", line, got, said)
	}
	w.said[strings.ReplaceAll(said, " --registry "+shellWord("linux", "./"+hintRegistry), "")] = true
	if setup {
		if got != fine {
			t.Fatalf("%s: status %d: %s", line, got, said)
		}
		return // what it proposes is tried elsewhere
	}
	commandsSaid := proposed(said)
	for i, hint := range commandsSaid {
		try := copyOf(t, dir)
		if c.before != "" {
			w.run(t, try, c.before)
		}
		if i > 0 && strings.Contains(said, "; then ") { // comes after what stands before it
			for _, b := range commandsSaid[:i] {
				w.runWords(t, try, "", append([]string{day}, pasted(t, filled(b, c.fill))...))
			}
		}
		w.try(t, try, day, hint, filled(hint, c.fill), line)
	}
}

// pasted splits a command as sh does, which must not ask for more of it.
func pasted(t *testing.T, command string) []string {
	t.Helper()
	said, err := outside.Command("sh", "-c", `pipstake() { printf '%s\0' "$@"; }`+"\npipstake "+command+"\n").Output()
	if err != nil {
		t.Fatalf("sh refuses %q: %v", command, err)
	}
	return strings.Split(strings.TrimSuffix(string(said), "\x00"), "\x00")
}

// try runs a proposed command, and looks whether it harmed.
func (w *hintWalk) try(t *testing.T, dir, day, hint, command, after string) {
	t.Helper()
	was := sightOf(t, dir)
	got, said := w.runWords(t, dir, "", append([]string{day}, pasted(t, command)...))
	name, _, _ := strings.Cut(command, " ")
	if got != fine && !(got == problemsSeen && (name == "check" || name == "scan")) {
		t.Errorf("after %q\n%q is proposed, and %q is refused: status %d\n%s", after, hint, command, got, said)
		return
	}
	w.tried++
	if harm := was.harmed(sightOf(t, dir), command); harm != "" {
		t.Errorf("after %q\n%q is proposed, and does harm: %s\n%s", after, hint, harm, said)
	}
}

// run runs "DAY command…" in a folder, with the registry orchard in it, which the
// environment names.
func (w *hintWalk) run(t *testing.T, dir, line string) (status, string) {
	t.Helper()
	return w.runWords(t, dir, hintRegistry, lineWords(t, line))
}

// runWords runs a day and a command, with the registry that the environment names.
func (w *hintWalk) runWords(t *testing.T, dir, named string, args []string) (status, string) {
	t.Helper()
	noon, err := time.Parse(time.DateOnly, args[0])
	if err != nil {
		t.Fatal(err)
	}
	input := ""
	if i := slices.Index(args, "<<"); i >= 0 {
		input = strings.Join(args[i+1:], "\n") + "\n"
		args = args[:i]
	}
	for i := range args {
		args[i] = inOrchard(args[i])
	}
	e, stdout, stderr := testEnv(t, args[1:]...)
	e.cwd, e.stdin, e.now = dir, strings.NewReader(input), func() time.Time { return noon.Add(12 * time.Hour) }
	e.getenv = func(name string) string {
		if _, err := os.Stat(filepath.Join(dir, hintRegistry)); err == nil && name == "PIPSTAKE_REGISTRY" {
			return named
		}
		return ""
	}
	got := execute(e)
	return got, stdout.String() + stderr.String()
}

// edit replaces a text in a file, or adds a line to it where the old one is empty.
func edit(t *testing.T, dir string, words []string) {
	t.Helper()
	name := filepath.Join(dir, inOrchard(words[0]))
	text, err := os.ReadFile(name)
	if err != nil && words[1] != "" {
		t.Fatal(err)
	}
	now := append(text, words[2]+"\r\n"...)
	if words[1] != "" {
		now = bytes.Replace(text, []byte(words[1]), []byte(words[2]), 1)
	}
	if bytes.Equal(now, text) {
		t.Fatalf("%s does not hold %q", words[0], words[1])
	}
	if err := os.WriteFile(name, now, 0o644); err != nil {
		t.Fatal(err)
	}
}

// lineWords splits a line as a shell does: quotes keep words together.
func lineWords(t *testing.T, line string) []string {
	t.Helper()
	var words []string
	word, quote, in := "", rune(0), false
	for _, r := range line {
		switch {
		case quote != 0 && r == quote:
			quote = 0
		case quote == 0 && (r == '"' || r == '\''):
			quote, in = r, true
		case quote == 0 && r == ' ':
			if in {
				words = append(words, word)
			}
			word, in = "", false
		default:
			word, in = word+string(r), true
		}
	}
	if quote != 0 {
		t.Fatalf("a quote is open in %q", line)
	}
	if in {
		words = append(words, word)
	}
	return words
}

// sight is what may not be harmed: what is on record of lives.
type sight struct {
	found  map[string]bool // what check finds
	void   map[string]bool
	counts map[string]string // rows of emergence.csv
	rows   map[string]string // what is on record of each identifier, void or not
	sums   string            // sown and up in all
}

func sightOf(t *testing.T, dir string) sight {
	t.Helper()
	s := sight{map[string]bool{}, map[string]bool{}, map[string]string{}, map[string]string{}, ""}
	r, err := registry.Open(filepath.Join(dir, hintRegistry))
	if err != nil {
		return s // there is none yet
	}
	for _, f := range r.Check() {
		s.found[f.File+" "+f.Column+" "+f.What] = true
	}
	sown, up := 0, 0
	note := func(id fmt.Stringer, state registry.State) {
		s.rows[id.String()] = string(state)
		if state == registry.Void {
			s.void[id.String()] = true
		}
	}
	for _, c := range r.Crosses() {
		note(c.ID, c.State)
	}
	for _, l := range r.Lots() {
		note(l.ID, l.State)
	}
	for _, p := range r.Pots() {
		note(p.ID, p.State)
		counts := r.CountsOf(p.ID)
		for _, c := range r.EmergenceOf(p.ID) {
			s.counts[p.ID.String()+c.On.String()] = fmt.Sprint(c.Up, c.Died)
		}
		if p.State != registry.Void && len(counts) > 0 {
			sown, up = sown+p.Seeds.N, up+counts[len(counts)-1].Up.N
		}
	}
	for _, p := range r.Seedlings() {
		note(p.ID, p.State)
	}
	s.sums = fmt.Sprint(sown, " ", up)
	return s
}

// harmed says what a command did that no proposal should; "" where all is well.
func (s sight) harmed(now sight, command string) string {
	name, _, _ := strings.Cut(command, " ")
	for id := range s.rows {
		if _, there := now.rows[id]; !there && name != "undo" {
			return id + " has no row any more"
		}
	}
	for id := range now.void {
		if !s.void[id] && name != "void" {
			return id + " is void"
		}
	}
	for at, count := range s.counts {
		if now.counts[at] != count && name != "correct" && name != "undo" && name != "emerged" {
			return "the count of " + at + " was " + count + " and is " + now.counts[at]
		}
	}
	if slices.Contains([]string{"gone", "void", "spoil", "labels", "move", "keep"}, name) && now.sums != s.sums && s.sums != "" {
		return "sown and up were " + s.sums + " and are " + now.sums
	}
	for f := range now.found {
		if name == "undo" {
			break // what it takes back was mended perhaps
		}
		if !s.found[f] && !strings.HasSuffix(f, " in use") && !strings.Contains(f, " in use as copy ") && !strings.Contains(f, "in use on its grafted copy") { // labels to print are no harm
			return "check finds " + f
		}
	}
	return ""
}

// printed reports whether a text was said, whatever stood in the place of its
// verbs.
func (w *hintWalk) printed(text string) bool {
	pattern := regexp.QuoteMeta(text)
	pattern = regexp.MustCompile(`%[sdqv]|\b(OF|ON|FIRST)\b`).ReplaceAllString(pattern, `.*`)
	said := regexp.MustCompile(pattern)
	for s := range maps.Keys(w.said) {
		if said.MatchString(s) {
			return true
		}
	}
	return false
}
