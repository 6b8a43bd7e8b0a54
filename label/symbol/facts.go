package symbol

import (
	"regexp"
	"strconv"
	"strings"
)

// Facts is what the text of a payload tells a reader that has no registry.
type Facts struct {
	Seeds                    int    // seeds sown in the pot; 0 on a bag, or where it is not known
	Sown                     string // the day, yyyy-mm-dd; "" on a bag, or where it is not known
	SeedParent, PollenParent string
}

// Text is the facts in the alphabet of a code, names folded:
// "7 SOWN 2027-01-14 LARKFIELD TESSEL X TARN AMBER", on a bag
// "LARKFIELD TESSEL X TARN AMBER". The error is a *FoldError: a name that
// cannot be folded, or one that ParseFacts would take for something else.
func (f Facts) Text() (string, error) {
	said := f
	var err error
	if said.SeedParent, err = Fold(f.SeedParent); err != nil {
		return "", err
	}
	if said.PollenParent, err = Fold(f.PollenParent); err != nil {
		return "", err
	}
	var words []string
	if f.Seeds != 0 {
		words = append(words, strconv.Itoa(f.Seeds))
	}
	if f.Seeds != 0 || f.Sown != "" {
		words = append(words, "SOWN")
	}
	if f.Sown != "" {
		words = append(words, f.Sown)
	}
	text := strings.Join(append(words, said.SeedParent, "X", said.PollenParent), " ")
	if back, ok := ParseFacts(text); !ok || back != said || !isText(text) {
		return "", &FoldError{Name: text, Reason: "it would be read otherwise than it is meant"}
	}
	return text, nil
}

// factsPattern: [SEEDS SOWN [DATE] | SOWN DATE] names.
var factsPattern = regexp.MustCompile(
	`^(?:([1-9][0-9]{0,8}) SOWN (?:([0-9]{4}-[0-9]{2}-[0-9]{2}) )?|SOWN ([0-9]{4}-[0-9]{2}-[0-9]{2}) )?(.+)$`)

// ParseFacts reads the text that Facts.Text writes, and reports whether it is
// one. The names come back folded.
func ParseFacts(text string) (Facts, bool) {
	m := factsPattern.FindStringSubmatch(text)
	if m == nil {
		return Facts{}, false
	}
	f := Facts{Sown: m[2] + m[3]}
	if m[1] != "" {
		f.Seeds, _ = strconv.Atoi(m[1]) // nine digits at most
	}
	var ok bool
	f.SeedParent, f.PollenParent, ok = strings.Cut(m[4], " X ")
	if !ok || !isFolded(f.SeedParent) || !isFolded(f.PollenParent) {
		return Facts{}, false
	}
	return f, true
}

// isFolded reports whether a name is as Fold writes it.
func isFolded(name string) bool {
	folded, err := Fold(name)
	return err == nil && folded == name
}
