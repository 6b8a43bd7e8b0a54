package registry

import (
	"regexp"
	"slices"
	"strings"
	"unicode"

	"golang.org/x/text/unicode/norm"
)

// Pollen may come from one plant, from several, or from anywhere. People write
// the last two in many ways; none of them is the name of a plant.

// ParentKind is what the cell of a parent stands for.
type ParentKind int

// The kinds of parents.
const (
	OnePlant    ParentKind = iota // a variety, or an own seedling by its identifier
	OpenPollen                    // whatever pollen wind and insects brought
	MixedPollen                   // the pollen of several plants together
	OwnPollen                     // the other parent of the cross
	UnknownParent
)

// Parent is what the cell of a parent says.
type Parent struct {
	Kind  ParentKind
	Names []string // the one plant; those of a mixture, as far as they are named
}

// The words that labels, payloads and pedigrees have for what is no plant.
const (
	openWord    = "open"
	mixtureWord = "mixture"
	selfedWord  = "selfed"
	unknownWord = "unknown"
)

// mixtureSign stands between the names of a mixture. It is in the alphabet of
// codes, so that a label can be read back.
const mixtureSign = " + "

// String writes the parent as labels, payloads and pedigrees have it: a name,
// "open", "mixture of Tarn Amber + Gwennol Goch", "selfed" or "unknown".
func (p Parent) String() string {
	switch p.Kind {
	case OpenPollen:
		return openWord
	case OwnPollen:
		return selfedWord
	case UnknownParent:
		return unknownWord
	case MixedPollen:
		if len(p.Names) == 0 {
			return mixtureWord
		}
		return mixtureWord + " of " + strings.Join(p.Names, mixtureSign)
	}
	return p.Names[0]
}

// handWords are what people write by hand for what is no plant, without case,
// accents, spaces and punctuation. They are common practice, in the languages
// that the tables of growers were seen in or are likely to be in.
var handWords = wordTable(map[ParentKind]string{
	OpenPollen: `op open openpollinated openpollination openpollinate openpollen openpoll openlypollinated oppollinated
		oppollination opseed opseedling openseed opencross opencrossed opencrossing openmating openmated openfertilised
		openfertilized freepollinated freepollination freelypollinated naturalpollination naturallypollinated naturalpollen
		insectpollinated insectpollination beepollinated beepollination bees windpollinated chancepollination
		freiabgebluht freieabblute freibestaubt freiebestaubung offenabgebluht offenbestaubt offenebestaubung
		vrijbestoven openbestoven vrijebestuiving openbestuiving pollinisationlibre pollinisationouverte fecondationlibre
		polinizacionlibre polinizacionabierta impollinazionelibera liberaimpollinazione impollinazioneaperta
		wolnezapylenie wolneopylenie friavblomning fripollinering fribestovning avoinpolytys`,
	MixedPollen: `mix mixture mixed mixedpollen mixpollen pollenmix pollenmixture pollenmixed mixtureofpollen mixofpollen
		mixedpollination bulk bulkpollen bulkedpollen pollenbulk bulked pooled pooledpollen pollenpool polymix polycross
		variouspollen various several severalpollens severalparents variousparents pollenofseveral
		pollengemisch pollenmischung mischpollen stuifmeelmengsel melangedepollens melangedepollen pollenmelange
		mezcladepolen miscelaneadipolline miscugliodipolline mieszankapylku pollenblandning pollenblanding`,
	OwnPollen: `self selfed selfing selfpollinated selfpollination selfpollen selffertilised selffertilized selfset
		itself ownpollen samepollen sameplant selbst selbstung geselbstet selbstbestaubung autofecondation zelfbestuiving`,
	UnknownParent: `unknown unkown unknow notknown unknownpollen unknownparent unknownparents unknownseedling unknownvariety
		unknownmale unknownfemale unknownfather unknownmother pollenunknown parentunknown parentsunknown unidentified
		unrecorded notrecorded norecord notonrecord notnoted nolabel labellost forgotten dontknow notsure
		notavailable none nobodyknows tobeknown tbd unbekannt inconnu inconnue onbekend okand ukjent ukendt nieznany
		nieznana nieznane desconocido desconocida sconosciuto sconosciuta tuntematon`,
})

func wordTable(of map[ParentKind]string) map[string]ParentKind {
	table := map[string]ParentKind{}
	for kind, words := range of {
		for _, word := range strings.Fields(words) {
			table[word] = kind
		}
	}
	return table
}

// ReadParent reads the cell of a parent, as the program or a person wrote it.
func ReadParent(cell string) Parent {
	cell = strings.TrimSpace(cell)
	plain := handWord(cell)
	if plain == "" || notAvailable.MatchString(cell) {
		return Parent{Kind: UnknownParent}
	}
	if kind, ok := handWords[plain]; ok {
		return Parent{Kind: kind}
	}
	if head, rest, ok := cutWord(cell); ok {
		plain := handWord(head)
		kind, ok := handWords[plain]
		switch {
		case plain == "" && head != "":
			return Parent{Kind: UnknownParent}
		case ok && kind == MixedPollen:
			return Parent{MixedPollen, mixedNames(strings.Trim(rest, "()[] "))}
		case ok:
			return Parent{Kind: kind}
		}
	}
	if head, number := cutNumber(cell); number != "" && handWords[handWord(head)] == MixedPollen {
		return Parent{MixedPollen, []string{number}}
	}
	if strings.Contains(cell, mixtureSign) {
		return Parent{MixedPollen, mixedNames(cell)}
	}
	return Parent{OnePlant, []string{cell}}
}

// notAvailable is "n/a", which without its sign could be a name.
var notAvailable = regexp.MustCompile(`(?i)^n\s*[/.]\s*a\s*\.?$`)

// cutWord parts a word of handWords from what may stand behind it after "of" or
// a sign: "mixture of A + B", "mixed: A, B", "pollen mix (A; B)", "op, row 3".
// All of it may stand in brackets.
func cutWord(cell string) (head, rest string, ok bool) {
	cell = strings.TrimLeft(cell, "([ ")
	at, length := strings.IndexAny(cell, ":=([,;"), 1
	for _, sign := range []string{" of ", " OF ", " Of ", " - ", " – ", " — "} {
		if before, _, ok := strings.Cut(cell, sign); ok && (at == -1 || len(before) < at) {
			at, length = len(before), len(sign)
		}
	}
	if at == -1 {
		head, ok = strings.CutSuffix(strings.ToLower(cell), " of")
		return head, "", ok
	}
	return strings.TrimSpace(cell[:at]), strings.TrimSpace(cell[at+length:]), true
}

// cutNumber parts a mixture from the number that it was given: "mix 3".
func cutNumber(cell string) (head, number string) {
	head = strings.TrimRight(cell, "0123456789")
	number = cell[len(head):]
	head = strings.TrimRight(head, " .#")
	for _, word := range []string{" no", " nr"} {
		head = strings.TrimSuffix(strings.ToLower(head), word)
	}
	return head, number
}

// handWord returns a text without case, accents, spaces and punctuation.
func handWord(s string) string {
	letters := false
	for _, r := range s {
		letters = letters || unicode.IsLetter(r) || unicode.IsDigit(r)
	}
	if !letters {
		return ""
	}
	return bareName(s)
}

// mixedNames splits the names of a mixture.
func mixedNames(s string) []string {
	names := strings.Split(s, mixtureSign)
	if len(names) == 1 {
		names = strings.FieldsFunc(s, func(r rune) bool { return strings.ContainsRune(",;+&", r) })
	}
	for i := range names {
		names[i] = strings.TrimSpace(norm.NFC.String(names[i]))
	}
	return slices.DeleteFunc(names, func(name string) bool { return name == "" })
}

// parentColumn holds a parent. What a person wrote for pollen that comes of no
// one plant is read as the program writes it, and stays in the file.
func parentColumn[T any](name string, need needed, field func(*T) *string) column[T] {
	c := nameColumn(name, need, field)
	read := c.read
	c.read = func(text string, e *T) *cellIssue {
		v := read(text, e)
		if p := ReadParent(*field(e)); *field(e) != "" && p.Kind != OnePlant {
			*field(e) = p.String()
		}
		return v
	}
	return c
}
