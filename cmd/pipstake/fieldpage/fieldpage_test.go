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
		Seedlings: []Seedling{{ID: "2026X001-A1-A", Notes: evil}}}
}

func written(t *testing.T, s Season) string {
	t.Helper()
	var b bytes.Buffer
	if err := Write(&b, s, Form{}); err != nil {
		t.Fatal(err)
	}
	return b.String()
}

// The page has the two scripts and the one style that it was written with; the
// season comes back out of it as it went in.
func TestNothingEndsTheSeason(t *testing.T) {
	want := markup()
	page := written(t, want)
	if !strings.HasPrefix(page, Start) || len(Start) > 64 {
		t.Errorf("the page begins %q", page[:80])
	}
	for mark, n := range map[string]int{"<script": 2, "</script": 2, "<style": 1, "<!--": 0} {
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
	if a, b := written(t, got), page; a != b {
		t.Error("the season in the page is not the one that it was written from")
	}
}

// The hashes of the policy are those of what stands in the page: base64 of
// SHA-256, as Content Security Policy Level 3, section 2.3.1, has it.
func TestPolicyNamesWhatStandsThere(t *testing.T) {
	page := written(t, markup())
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
	if !strings.HasPrefix(said, "default-src 'none'; base-uri 'none'; form-action 'none'; ") || strings.Contains(said, "unsafe") {
		t.Errorf("the policy allows more than it should: %q", said)
	}
}
