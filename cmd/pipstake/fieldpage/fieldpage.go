// Package fieldpage writes the registry as one page for a phone, which needs no
// network: what a pot is, and counts entered beside it, to be brought home as a
// CSV file. It reads the registry and never changes it, and the page it writes
// can reach nothing outside itself.
//
// # Decisions
//
// The field page is one HTML file whose policy names its script and style by
// their hashes and allows nothing else; texts are text nodes. identifier.js
// reads as ids does: a test gives both the same texts. counts.js refuses what
// the registry would. Tested in Chromium only, with a detector of the tests'
// own: the reading of codes is the phone's.
package fieldpage

import (
	"crypto/sha256"
	"embed"
	"encoding/base64"
	"encoding/json"
	"html/template"
	"io"
	"slices"
	"strings"
)

// Start is how every page begins.
const Start = "<!doctype html>\n<html lang=\"en\" data-page=\"pipstake field\">"

var (
	//go:embed page.html
	frame string
	//go:embed page.css
	style string
	//go:embed *.js
	scripts embed.FS
	//go:embed reader/reader.wasm.gz
	reader []byte
)

// inOrder are the scripts as they follow each other in the page.
var inOrder = []string{"element", "identifier", "season", "record", "counts", "curve", "view", "form", "walk", "outbox", "find", "reader", "camera", "route"}

var page = template.Must(template.New("page").Parse(frame))

// Form is how a page is made.
type Form struct {
	Light  bool // without the reader of codes, which is most of a page's size
	Served bool // from a server, to which it sends what is entered
}

// Write writes the page of a season. The same season and form give the same bytes.
//
// The page's policy lets it load nothing and run only the script and style that
// stand in it, known by their hashes (Content Security Policy Level 3); with the
// reader also WebAssembly, and a worker that the page makes of itself; where it is
// served, it may ask the server that it came from. The season
// stands in it as JSON whose angle brackets are escaped, so no text of the registry
// can end it; the script shows texts as text only.
func Write(w io.Writer, s Season, f Form) error {
	data, err := json.Marshal(s)
	if err != nil {
		return err
	}
	names, home := inOrder, ""
	if f.Served {
		names, home = append(slices.Clone(inOrder), "send"), "; connect-src 'self'"
	}
	script, err := scriptOf(names)
	if err != nil {
		return err
	}
	scriptSources, workers, packed := hashOf(script), "", ""
	if !f.Light {
		scriptSources += " 'wasm-unsafe-eval'"
		workers = "; worker-src blob:"
		packed = base64.StdEncoding.EncodeToString(reader)
	}
	policy := "default-src 'none'; base-uri 'none'; form-action 'none'; style-src " + hashOf(style) + "; script-src " + scriptSources + workers + home
	return page.Execute(w, struct {
		Season, Script template.JS
		Style          template.CSS
		Reader         template.HTML
		Policy         string
		Registry, Made string
	}{template.JS(data), template.JS(script), template.CSS(style), template.HTML(packed), policy, s.Registry, s.Made})
}

// scriptOf joins scripts of the page.
func scriptOf(names []string) (string, error) {
	var texts []string
	for _, name := range names {
		text, err := scripts.ReadFile(name + ".js")
		if err != nil {
			return "", err
		}
		texts = append(texts, string(text))
	}
	return "\"use strict\";\n\n" + strings.Join(texts, "\n"), nil
}

// hashOf is how a policy names a script or a style that may stand in the page.
func hashOf(text string) string {
	sum := sha256.Sum256([]byte(text))
	return "'sha256-" + base64.StdEncoding.EncodeToString(sum[:]) + "'"
}
