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
	_ "embed"
	"encoding/base64"
	"encoding/json"
	"html/template"
	"io"
	"strings"
)

// Start is how every page begins.
const Start = "<!doctype html>\n<html lang=\"en\" data-page=\"pipstake field\">"

var (
	//go:embed page.html
	frame string
	//go:embed page.css
	style string
	//go:embed identifier.js
	identifierScript string
	//go:embed season.js
	seasonScript string
	//go:embed record.js
	recordScript string
	//go:embed counts.js
	countsScript string
	//go:embed view.js
	viewScript string
	//go:embed find.js
	findScript string
	//go:embed camera.js
	cameraScript string
)

var page = template.Must(template.New("page").Parse(frame))

// Write writes the page of a season. The same season gives the same bytes.
//
// The page's policy lets it load nothing and run only the script and style that
// stand in it, known by their hashes (Content Security Policy Level 3). The
// season stands in it as JSON whose angle brackets are escaped, so no text of
// the registry can end it; the script shows texts as text only.
func Write(w io.Writer, s Season) error {
	data, err := json.Marshal(s)
	if err != nil {
		return err
	}
	script := strings.Join([]string{identifierScript, seasonScript, recordScript, countsScript, viewScript, findScript, cameraScript}, "\n")
	policy := "default-src 'none'; base-uri 'none'; form-action 'none'; style-src " + hashOf(style) + "; script-src " + hashOf(script)
	return page.Execute(w, struct {
		Season, Script template.JS
		Style          template.CSS
		Policy         string
		Registry, Made string
	}{template.JS(data), template.JS(script), template.CSS(style), policy, s.Registry, s.Made})
}

// hashOf is how a policy names a script or a style that may stand in the page.
func hashOf(text string) string {
	sum := sha256.Sum256([]byte(text))
	return "'sha256-" + base64.StdEncoding.EncodeToString(sum[:]) + "'"
}
