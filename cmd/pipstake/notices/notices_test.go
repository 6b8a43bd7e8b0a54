package notices

import (
	"bytes"
	"fmt"
	"os"
	"path/filepath"
	"regexp"
	"slices"
	"strings"
	"testing"

	"pipstake/layout/proof/outside"
)

// The systems that the program is built for; some parts are in one of them only.
var systems = []string{"linux", "windows", "darwin"}

// part is a module, or the toolchain, of which something is in the program.
type part struct{ name, version, dir string }

// parts lists what the program is made of, sorted by name.
func parts(t *testing.T) []part {
	t.Helper()
	seen := map[part]bool{{"Go", "standard library", goroot(t)}: true}
	for _, system := range systems {
		for line := range strings.Lines(list(t, system, "{{with .Module}}{{if not .Main}}{{.Path}}\t{{.Version}}\t{{.Dir}}{{end}}{{end}}")) {
			if field := strings.Split(strings.TrimSpace(line), "\t"); len(field) == 3 {
				seen[part{field[0], field[1], field[2]}] = true
			}
		}
		// A typeface has a licence of its own, which stands beside its source.
		for line := range strings.Lines(list(t, system, "{{.ImportPath}}\t{{.Dir}}")) {
			if path, dir, _ := strings.Cut(strings.TrimSpace(line), "\t"); strings.Contains(path, "/font/gofont/") {
				seen[part{"the Go fonts", "of golang.org/x/image", filepath.Join(filepath.Dir(dir), "ttfs")}] = true
			}
		}
	}
	var all []part
	for p := range seen {
		all = append(all, p)
	}
	slices.SortFunc(all, func(a, b part) int { return strings.Compare(a.name, b.name) })
	return all
}

// list prints something of each package in the program.
func list(t *testing.T, system, format string) string {
	t.Helper()
	c := outside.Command("go", "list", "-deps", "-f", format, "pipstake/cmd/pipstake")
	c.Env = append(os.Environ(), "GOOS="+system, "CGO_ENABLED=0")
	var said bytes.Buffer
	c.Stderr = &said
	out, err := c.Output()
	if err != nil {
		t.Fatalf("%v: %v\n%s", c, err, &said)
	}
	return string(out)
}

func goroot(t *testing.T) string {
	t.Helper()
	out, err := outside.Command("go", "env", "GOROOT").Output()
	if err != nil {
		t.Fatal(err)
	}
	return strings.TrimSpace(string(out))
}

var licence = regexp.MustCompile(`(?i)^(licen[cs]e|copying|notice|patents|readme$)`)

// notice returns the files of a part that tell its licence.
func notice(t *testing.T, p part) string {
	t.Helper()
	entries, err := os.ReadDir(p.dir)
	if err != nil {
		t.Fatal(err)
	}
	var text strings.Builder
	for _, e := range entries {
		// A file named README is a licence beside typefaces only.
		if e.IsDir() || !licence.MatchString(e.Name()) || strings.EqualFold(e.Name(), "readme") && filepath.Base(p.dir) != "ttfs" {
			continue
		}
		b, err := os.ReadFile(filepath.Join(p.dir, e.Name()))
		if err != nil {
			t.Fatal(err)
		}
		fmt.Fprintf(&text, "\n%s\n", strings.TrimSpace(strings.ReplaceAll(string(b), "\r\n", "\n")))
	}
	if text.Len() == 0 {
		t.Errorf("%s %s states no licence in %s", p.name, p.version, p.dir)
	}
	return text.String()
}

// Every module of which a package is in the program stands in the notices, with
// the licence that it brings and no other.
func TestNoticesAreThoseOfTheParts(t *testing.T) {
	if testing.Short() {
		t.Skip("takes long")
	}
	var want strings.Builder
	want.WriteString("pipstake is made with the parts below, whose licences ask that these notices go\nwith it.\n")
	names := map[string][]string{} // of the parts that share a notice
	var notices []string
	for _, p := range parts(t) {
		text := notice(t, p)
		if names[text] == nil {
			notices = append(notices, text)
		}
		names[text] = append(names[text], p.name+" "+p.version)
	}
	for _, text := range notices {
		fmt.Fprintf(&want, "\n%s\n%s\n%s", strings.Repeat("=", 72), strings.Join(names[text], "\n"), text)
	}
	const file = "notices.txt"
	if os.Getenv("UPDATE_NOTICES") != "" {
		if err := os.WriteFile(file, []byte(want.String()), 0o644); err != nil {
			t.Fatal(err)
		}
		return
	}
	if Text != want.String() {
		t.Error("the program's parts have changed: UPDATE_NOTICES=1 go test ./cmd/pipstake/notices writes their notices anew")
	}
}
