package main

import (
	"os"
	"path/filepath"
	"slices"
	"testing"
)

func TestQuotedPath(t *testing.T) {
	const path = "C:\\orchard\\zło\u001bta.pdf"
	if got, want := quotedPathOn("windows", path), `"C:\orchard\zło\x1bta.pdf"`; got != want {
		t.Errorf("on Windows: %s, want %s", got, want)
	}
	if got, want := quotedPathOn("linux", path), `"C:\\orchard\\zło\x1bta.pdf"`; got != want {
		t.Errorf("elsewhere: %s, want %s", got, want)
	}
}

// The shells of Windows hand patterns on as they are typed.
func TestPatternsOfFiles(t *testing.T) {
	e, _, _ := testEnv(t)
	for _, name := range []string{"b.jpg", "a.jpg", "c.txt", "[1].jpg", "1.jpg"} {
		if err := os.WriteFile(filepath.Join(e.cwd, name), nil, 0o644); err != nil {
			t.Fatal(err)
		}
	}
	for _, c := range []struct{ args, want []string }{
		{[]string{"[a-b].jpg", "c.txt"}, []string{"a.jpg", "b.jpg", "c.txt"}},
		{[]string{"[1].jpg"}, []string{"[1].jpg"}},
		{[]string{"*.png", "-"}, []string{"*.png", "-"}},
		{[]string{filepath.Join(e.cwd, "*.txt")}, []string{filepath.Join(e.cwd, "c.txt")}},
	} {
		if got := e.expanded(c.args); !slices.Equal(got, c.want) {
			t.Errorf("expanded(%q) = %q, want %q", c.args, got, c.want)
		}
	}
}
