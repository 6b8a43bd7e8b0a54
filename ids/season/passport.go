package season

import (
	"encoding/csv"
	"fmt"
	"io"
	"strings"

	"pipstake/ids"
	"pipstake/ids/registry"
)

// Passport is the passport of one accession by the FAO/Bioversity multi-crop
// passport descriptors V2.1, as far as they apply to what a grower bred. An
// accession is what a grower holds: a bag of seed, which segregates, or a plant.
// PUID, which a registry of such identifiers has to issue, and all that concerns
// collecting in the wild are left out.
type Passport struct {
	Institute string // INSTCODE: the FAO WIEWS code of the holder
	Number    string // ACCENUMB: the own identifier
	Genus     string // GENUS
	Species   string // SPECIES
	Crop      string // CROPNAME
	Name      string // ACCENAME: of a selection that has one
	Acquired  string // ACQDATE: yyyymmdd, with hyphens for a part that is not known
	Origin    string // ORIGCTY: the country in which it was bred, by ISO 3166-1
	Breeder   string // BREDNAME
	Status    string // SAMPSTAT
	Ancestry  string // ANCEST: the pedigree after Purdy et al.
	Donor     string // DONORNAME: of seed from elsewhere
	Storage   string // STORAGE
}

// The codes of the descriptors; those of STORAGE are from memory.
const (
	breedersLine    = "410" // SAMPSTAT
	segregating     = "415" // SAMPSTAT
	seedCollection  = "10"  // STORAGE
	fieldCollection = "20"  // STORAGE
)

// mostNames is how many names an ANCEST has at most.
const mostNames = 64

// Holder is what the passports of a grower's plants have in common.
type Holder struct {
	Institute      string // FAO WIEWS code; may be empty
	Origin         string // ISO 3166-1 alpha-3; may be empty
	Breeder        string // a name; may be empty
	Genus, Species string
}

// LeftOut counts what has no passport of its own, by the reason.
type LeftOut struct {
	Crosses int // nothing of them is held: neither seed nor a seedling
	Lots    int // no seed is known to be in them
	Pots    int // their seed is sown; what is kept of it is pricked out
	Ended   int // lots and seedlings
	Void    int // lots and seedlings
}

// passports gathers the accessions.
type passports struct {
	r        *registry.Registry
	pedigree *Pedigree
	holder   Holder
	only     []ids.ID
	all      []Passport
	out      LeftOut
	held     map[ids.ID]bool // crosses of which something is held
}

// Passports describes the seed lots that hold seed and the seedlings that grow
// and are within one of some identifiers, or all for none; lots first, each in the
// order of its file. The error is a *CycleError where the crosses contradict
// themselves.
func Passports(r *registry.Registry, h Holder, only []ids.ID) ([]Passport, LeftOut, error) {
	p := &passports{r: r, pedigree: NewPedigree(r), holder: h, only: only, held: map[ids.ID]bool{}}
	if err := p.lots(); err != nil {
		return nil, p.out, err
	}
	for _, s := range r.Seedlings() {
		if !p.wanted(s.ID) {
			continue
		}
		if err := p.add(s.ID, breedersLine, fieldCollection, acqDate(s.Pricked, 0)); err != nil {
			return nil, p.out, err
		}
	}
	for _, pot := range r.Pots() {
		if isWithin(pot.ID, only) && r.Status(pot.ID) == registry.Issued {
			p.out.Pots++
		}
	}
	for _, c := range r.Crosses() {
		if isWithin(c.ID, only) && r.Status(c.ID) == registry.Issued && !p.held[c.ID] {
			p.out.Crosses++
		}
	}
	return p.all, p.out, nil
}

// lots takes up the bags that hold seed.
func (p *passports) lots() error {
	for _, l := range p.r.Lots() {
		if !p.wanted(l.ID) {
			continue
		}
		if left, _ := p.r.LeftToSow(l.ID); left.N == 0 { // or not known
			p.out.Lots++
			continue
		}
		acquired := l.Extracted
		if acquired.IsZero() {
			acquired = l.Issued // of seed that was received
		}
		if err := p.add(l.ID, segregating, seedCollection, acqDate(acquired, l.ID.Year)); err != nil {
			return err
		}
	}
	return nil
}

// wanted reports whether a seed lot or seedling was asked for and is there. Those
// that are void or ended are counted.
func (p *passports) wanted(id ids.ID) bool {
	switch {
	case !isWithin(id, p.only):
		return false
	case p.r.Status(id) == registry.Voided:
		p.out.Void++
		return false
	case !p.r.Grows(id):
		p.out.Ended++
		return false
	}
	return true
}

func (p *passports) add(id ids.ID, status, storage, acquired string) error {
	pass, err := p.pedigree.passport(p.holder, id)
	pass.Status, pass.Storage, pass.Acquired = status, storage, acquired
	p.held[id.At(ids.CrossLevel)] = true
	p.all = append(p.all, pass)
	return err
}

// passport is all but the date and the codes.
func (p *Pedigree) passport(h Holder, id ids.ID) (Passport, error) {
	plant, err := p.Plant(id)
	if err != nil {
		return Passport{}, err
	}
	pass := Passport{Institute: h.Institute, Number: id.String(), Genus: h.Genus, Species: h.Species, Origin: h.Origin, Breeder: oneValue(h.Breeder)}
	if h.Genus == "Malus" {
		pass.Crop = "apple"
	}
	if s, ok := p.r.Seedling(id); ok {
		pass.Name = oneValue(s.Name)
	}
	if c, _ := p.r.Cross(id.At(ids.CrossLevel)); c.Source != "" {
		pass.Donor = oneValue(c.Source)
		pass.Breeder, pass.Origin = "", "" // it was bred elsewhere
	}
	if !plant.IsFounder() {
		ancestry, _ := p.Purdy(plant, mostNames)
		pass.Ancestry = oneValue(ancestry)
	}
	return pass, nil
}

// acqDate writes a day as ACQDATE has it; the year alone, with hyphens for the
// rest, where the day is not known; "" where neither is.
func acqDate(d registry.Date, year int) string {
	if d.IsZero() && year != 0 {
		return fmt.Sprintf("%04d----", year)
	}
	return strings.ReplaceAll(d.String(), "-", "")
}

// oneValue keeps a text from being read as several: the descriptors put a
// semicolon between values.
func oneValue(s string) string { return strings.ReplaceAll(s, ";", ",") }

// descriptors are the columns of a passport file, in the order of the
// descriptor list.
var descriptors = []struct {
	name string
	of   func(*Passport) string
}{
	{"INSTCODE", func(p *Passport) string { return p.Institute }},
	{"ACCENUMB", func(p *Passport) string { return p.Number }},
	{"GENUS", func(p *Passport) string { return p.Genus }},
	{"SPECIES", func(p *Passport) string { return p.Species }},
	{"CROPNAME", func(p *Passport) string { return p.Crop }},
	{"ACCENAME", func(p *Passport) string { return p.Name }},
	{"ACQDATE", func(p *Passport) string { return p.Acquired }},
	{"ORIGCTY", func(p *Passport) string { return p.Origin }},
	{"BREDNAME", func(p *Passport) string { return p.Breeder }},
	{"SAMPSTAT", func(p *Passport) string { return p.Status }},
	{"ANCEST", func(p *Passport) string { return p.Ancestry }},
	{"DONORNAME", func(p *Passport) string { return p.Donor }},
	{"STORAGE", func(p *Passport) string { return p.Storage }},
}

// WritePassports writes passports as CSV with CRLF after each record (RFC
// 4180), in UTF-8 behind a byte order mark, so that spreadsheets show names
// right. Columns that are empty throughout are left out, except ACCENUMB.
// Cells stand as they are, without the guard that the registry has against
// formulas: a gene bank reads the file by the descriptors.
func WritePassports(w io.Writer, all []Passport) error {
	columns := descriptors[:0:0]
	for _, d := range descriptors {
		used := d.name == "ACCENUMB"
		for i := range all {
			used = used || d.of(&all[i]) != ""
		}
		if used {
			columns = append(columns, d)
		}
	}
	if _, err := io.WriteString(w, "\ufeff"); err != nil {
		return err
	}
	out := csv.NewWriter(w)
	out.UseCRLF = true
	var record []string
	for _, d := range columns {
		record = append(record, d.name)
	}
	if err := out.Write(record); err != nil {
		return err
	}
	for i := range all {
		for j, d := range columns {
			record[j] = d.of(&all[i])
		}
		if err := out.Write(record); err != nil {
			return err
		}
	}
	out.Flush()
	return out.Error()
}
