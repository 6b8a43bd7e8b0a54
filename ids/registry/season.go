package registry

import (
	"errors"
	"fmt"
	"strings"
	"unicode/utf8"

	"pipstake/ids"
)

// The events of a season. Each looks at everything first and then changes the
// tables, so that after an error nothing is changed. The errors are a *Refusal
// where the request contradicts the registry or itself, and a *DamageError
// where it needs a cell that cannot be read.

// NewCross is a cross to be registered.
type NewCross struct {
	SeedParent, PollenParent string // a name, or an own seedling's identifier
	Pollinated               Date   // may be unknown
	Year                     int    // of the identifier; 0 for the year of pollination
	Flowers                  Count
	Notes                    string
	Source                   string // of seed that came from elsewhere; "" for a cross of one's own
}

// AddCross registers a cross and issues its identifier. The same name twice is
// a selfing.
func (r *Registry) AddCross(c NewCross) (Cross, error) {
	seed, err := r.parent("seed parent", c.SeedParent)
	if err != nil {
		return Cross{}, err
	}
	pollen, err := r.parent("pollen parent", c.PollenParent)
	if err != nil {
		return Cross{}, err
	}
	year, err := crossYear(c)
	if err != nil {
		return Cross{}, err
	}
	if err := countFrom0("flowers", c.Flowers); err != nil {
		return Cross{}, err
	}
	notes, err := oneLine("note", c.Notes)
	if err != nil {
		return Cross{}, err
	}
	source, err := oneLine("source", c.Source)
	if err != nil {
		return Cross{}, err
	}
	issued, err := r.issued(ids.ID{Year: year})
	if err != nil {
		return Cross{}, err
	}
	id, err := ids.NextCross(year, issued)
	if err != nil {
		return Cross{}, &Refusal{err.Error(), "give the year of the pollination in four digits"}
	}
	cross := Cross{ID: id, SeedParent: seed, PollenParent: pollen, Pollinated: c.Pollinated, Flowers: c.Flowers, Notes: notes, Source: source}
	r.crosses.append(cross)
	return cross, nil
}

// crossYear is the year in the identifier of a cross. It may be the one before
// or after that of the day, since a season can run over New Year.
func crossYear(c NewCross) (int, error) {
	switch {
	case c.Year == 0 && c.Pollinated.IsZero():
		return 0, &Refusal{"the cross has no year", "give the day of pollination or the year"}
	case c.Year == 0:
		return c.Pollinated.Year, nil
	case !c.Pollinated.IsZero() && (c.Year < c.Pollinated.Year-1 || c.Year > c.Pollinated.Year+1):
		return 0, &Refusal{fmt.Sprintf("the year %d does not go with a pollination on %s", c.Year, c.Pollinated), "correct one of the two"}
	}
	return c.Year, nil
}

// parent looks at the name of a parent. An identifier must be that of a
// seedling in use, and is written as identifiers are.
func (r *Registry) parent(role, name string) (string, error) {
	name, err := oneName(role, name)
	if err != nil {
		return "", err
	}
	if name == "" {
		return "", &Refusal{fmt.Sprintf("the %s has no name", role), `give its name, or "unknown"`}
	}
	if p := ReadParent(name); p.Kind != OnePlant {
		return r.mixedPollen(role, p)
	}
	read, err := ids.Parse(name)
	var wrongCheck *ids.CheckError
	var wrong *ids.ParseError
	switch {
	case errors.As(err, &wrongCheck):
		return "", &Refusal{fmt.Sprintf("%s %q: the check character is %c, but that of %s is %c", role, name, wrongCheck.Got, wrongCheck.ID, wrongCheck.Want),
			"compare each character with the label"}
	case errors.As(err, &wrong) && looksIssued(name):
		return "", &Refusal{fmt.Sprintf("%s %q, character %d: %s", role, shorten(name), wrong.Pos, wrong.Reason), wrong.Remedy}
	case err != nil:
		return name, nil
	}
	if _, err := r.usable(read.ID, ids.SeedlingLevel); err != nil {
		return "", err
	}
	return read.ID.String(), nil
}

// mixedPollen looks at each plant of a mixture. Other pollen of no one plant
// is as it is.
func (r *Registry) mixedPollen(role string, p Parent) (string, error) {
	for i, name := range p.Names {
		named, err := r.parent(role, name)
		if err != nil {
			return "", err
		}
		p.Names[i] = named
	}
	return p.String(), nil
}

// looksIssued reports whether a text starts as identifiers do.
func looksIssued(s string) bool {
	if len(s) < len("2026X0") || s[4] != 'X' && s[4] != 'x' {
		return false
	}
	return strings.Trim(s[:4]+s[5:6], "0123456789") == ""
}

// longest is the greatest length of a text in a cell, in characters.
const longest = 500

// oneLine trims a text and refuses one that does not stay on one line.
func oneLine(noun, s string) (string, error) {
	if utf8.ValidString(s) {
		s = strings.TrimSpace(withoutUnseen(s))
	}
	switch {
	case !utf8.ValidString(s):
		return "", &Refusal{fmt.Sprintf("the %s %q is not UTF-8 text", noun, shorten(s)), "type it again"}
	case hasControl(s):
		return "", &Refusal{fmt.Sprintf("the %s %q holds a line break or a control character", noun, shorten(s)), "write it on one line"}
	case utf8.RuneCountInString(s) > longest:
		return "", &Refusal{fmt.Sprintf("the %s %q is too long", noun, shorten(s)), fmt.Sprintf("use at most %d characters", longest)}
	}
	return s, nil
}

// oneName is oneLine for a name, which is refused where it is not what it seems
// as well.
func oneName(noun, s string) (string, error) {
	s, err := oneLine(noun, s)
	if err != nil {
		return "", err
	}
	if what, remedy := nameFault(s); what != "" {
		return "", &Refusal{fmt.Sprintf("the %s %q %s", noun, shorten(s), what), remedy}
	}
	return s, nil
}

// countFrom0 refuses a count that cannot be.
func countFrom0(what string, c Count) error {
	if c.Known && (c.N < 0 || c.N > maxCount) {
		return &Refusal{fmt.Sprintf("%d is no count of %s", c.N, what), "give the number that was counted"}
	}
	return nil
}

// AddLots issues n seed lots of a cross.
func (r *Registry) AddLots(cross ids.ID, n int, issued Date) ([]Lot, error) {
	if _, err := r.usable(cross, ids.CrossLevel); err != nil {
		return nil, err
	}
	if err := r.notEnded(cross, "seed lot", Date{}); err != nil {
		return nil, err
	}
	fresh, err := r.children(cross, n)
	if err != nil {
		return nil, err
	}
	var lots []Lot
	for _, id := range fresh {
		lot := Lot{ID: id, Issued: issued}
		r.lots.append(lot)
		lots = append(lots, lot)
	}
	return lots, nil
}

// AddSeedlings issues n seedlings pricked out of a pot. There are no more than
// seeds were sown and seedlings alive by the counts of that day or later; what
// goes beyond an earlier count has come up since. The error is an *EndedError
// after the end of the pot, a *SumError, another *Refusal, or a *DamageError.
func (r *Registry) AddSeedlings(pot ids.ID, n int, on Date) ([]Seedling, error) {
	at, err := r.usable(pot, ids.PotLevel, "seeds", "sown")
	if err != nil {
		return nil, err
	}
	p := r.pots.entries[at]
	if on.Before(p.Sown) {
		return nil, tooEarly("pricked out", on, "sowing", p.Sown)
	}
	if err := r.notEnded(pot, "pricking out", on); err != nil {
		return nil, err
	}
	life, err := r.lifeOf(p)
	if err != nil {
		return nil, err
	}
	if err := life.enough(n, on); err != nil {
		return nil, err
	}
	fresh, err := r.children(pot, n)
	if err != nil {
		return nil, err
	}
	var seedlings []Seedling
	for _, id := range fresh {
		s := Seedling{ID: id, Pricked: on}
		r.seedlings.append(s)
		seedlings = append(seedlings, s)
	}
	return seedlings, nil
}

// enough refuses to prick out more than is alive in a pot on a day.
func (l potLife) enough(n int, on Date) error {
	left, by := l.room(on)
	if n <= left {
		return nil
	}
	died := 0
	for _, c := range l.counts {
		if by.Pot == (ids.ID{}) || c.On.Compare(by.On) <= 0 {
			died = max(died, c.Died.N)
		}
	}
	dead := ""
	if died > 0 {
		dead = fmt.Sprintf("%d died, ", died)
	}
	most := "none is left to issue"
	if left > 0 {
		most = fmt.Sprintf("issue at most %d", left)
	}
	if by.Pot == (ids.ID{}) {
		return &Refusal{fmt.Sprintf("%s was sown with %s, %s%s issued already, and %d more are asked for",
			l.pot.ID, several(l.pot.Seeds.N, "seed"), dead, wasWere(len(l.pricked), "seedling"), n), most}
	}
	return refuseSum(fmt.Sprintf("%s had %d up on %s, %s%d pricked out by then: %d alive, and %d more are asked for",
		l.pot.ID, by.Up.N, by.On, dead, l.prickedBy(by.On), left, n), most, l.pot.ID)
}

// addNote puts a note behind those that are there.
func addNote(notes, note string) string {
	if notes == "" || note == "" {
		return notes + note
	}
	return notes + "; " + note
}
