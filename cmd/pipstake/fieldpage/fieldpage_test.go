package fieldpage

import (
	"bytes"
	"crypto/sha256"
	"encoding/base64"
	"encoding/json"
	"regexp"
	"strings"
	"testing"
)

// A season whose every text is markup.
func markup() Season {
	seeds := 7
	const evil = "</script><script>alert(1)</script><!--\u2028\u2029&\"'"
	return Season{Registry: evil, Made: "2027-03-01",
		Crosses:   []Cross{{ID: "2026X001", Seed: evil, Pollen: "Błota Struga", Notes: evil}},
		Lots:      []Lot{{ID: "2026X001-A", Notes: evil}},
		Pots:      []Pot{{ID: "2026X001-A1", Seeds: &seeds, Place: evil, Counts: []Count{{On: "2027-02-27", Up: &seeds}}}},
		Seedlings: []Seedling{{ID: "2026X001-A1-A", Notes: evil, Life: Life{Fate: "culled", Ended: "2027-02-28", Remarks: []Remark{{"2027-02-27", evil}}}}}}
}

func written(t *testing.T, s Season, f Form) string {
	t.Helper()
	var b bytes.Buffer
	if err := Write(&b, s, f); err != nil {
		t.Fatal(err)
	}
	return b.String()
}

// The page has the scripts and the one style that it was written with; the
// season and the reader come back out of it as they went in.
func TestNothingEndsTheSeason(t *testing.T) {
	want := markup()
	page := written(t, want, Form{})
	if !strings.HasPrefix(page, Start) || len(Start) > 64 {
		t.Errorf("the page begins %q", page[:80])
	}
	for mark, n := range map[string]int{"<script": 3, "</script": 3, "<style": 1, "<!--": 0} {
		if got := strings.Count(page, mark); got != n {
			t.Errorf("%q stands there %d times, want %d", mark, got, n)
		}
	}
	_, data, _ := strings.Cut(page, `<script type="application/json" id="season">`)
	data, _, _ = strings.Cut(data, "</script>")
	var got Season
	if err := json.Unmarshal([]byte(data), &got); err != nil {
		t.Fatal(err)
	}
	if a, b := written(t, got, Form{}), page; a != b {
		t.Error("the season in the page is not the one that it was written from")
	}
	_, packed, _ := strings.Cut(page, `<script type="text/plain" id="reader">`)
	packed, _, _ = strings.Cut(packed, "</script>")
	if got, err := base64.StdEncoding.DecodeString(packed); err != nil || !bytes.Equal(got, reader) {
		t.Errorf("the reader in the page is not the one that is kept: %v", err)
	}
}

// The hashes of the policy are those of what stands in the page: base64 of
// SHA-256, as Content Security Policy Level 3, section 2.3.1, has it.
//
// With the reader it allows WebAssembly as well (the keyword 'wasm-unsafe-eval' of
// the same section), and workers of the page's own making.
func TestPolicyNamesWhatStandsThere(t *testing.T) {
	for _, f := range []Form{{}, {Light: true}} {
		policyNamesWhatStandsThere(t, f)
	}
}

func policyNamesWhatStandsThere(t *testing.T, f Form) {
	t.Helper()
	page := written(t, markup(), f)
	policy := regexp.MustCompile(`Content-Security-Policy" content="([^"]+)"`).FindStringSubmatch(page)
	if policy == nil {
		t.Fatal("the page has no policy")
	}
	said := strings.NewReplacer("&#39;", "'", "&#43;", "+").Replace(policy[1])
	for _, c := range []struct{ directive, open, end string }{
		{"style-src", "<style>", "</style>"},
		{"script-src", "<script>", "</script>"},
	} {
		_, text, _ := strings.Cut(page, c.open)
		text, _, _ = strings.Cut(text, c.end)
		sum := sha256.Sum256([]byte(text))
		want := c.directive + " 'sha256-" + base64.StdEncoding.EncodeToString(sum[:]) + "'"
		if len(text) < 1000 || !strings.Contains(said, want) {
			t.Errorf("the policy %q lacks %q", said, want)
		}
	}
	for allowed, want := range map[string]bool{" 'wasm-unsafe-eval'": !f.Light, "; worker-src blob:": !f.Light} {
		if strings.Contains(said, allowed) == want {
			said = strings.Replace(said, allowed, "", 1)
		} else {
			t.Errorf("%+v: the policy %q has %q: %v", f, said, allowed, !want)
		}
	}
	if !strings.HasPrefix(said, "default-src 'none'; base-uri 'none'; form-action 'none'; ") || strings.Contains(said, "unsafe") || strings.Count(said, ";") != 4 {
		t.Errorf("%+v: the policy allows more than it should: %q", f, said)
	}
	if has := strings.Contains(page, `id="reader"`); has == f.Light || f.Light && len(page) > 200_000 {
		t.Errorf("%+v: the page carries the reader: %v", f, has)
	}
}
