package season

import (
	"encoding/csv"
	"fmt"
	"io"
	"strings"

	"pipstake/ids"
	"pipstake/ids/registry"
)

// Passport is the passport of one accession, a seedling or a cross, by the
// FAO/Bioversity multi-crop passport descriptors V2.1, as far as they apply to
// what a grower bred. PUID, which a registry of such identifiers has to issue,
// and all that concerns collecting and donors are left out.
type Passport struct {
	Institute string // INSTCODE: the FAO WIEWS code of the holder
	Number    string // ACCENUMB: the own identifier
	Genus     string // GENUS
	Species   string // SPECIES
	Crop      string // CROPNAME
	Name      string // ACCENAME: the parents, as "Larkfield Tessel × Tarn Amber"
	Acquired  string // ACQDATE: yyyymmdd, with hyphens for a part that is not known
	Breeder   string // BREDNAME
	Status    string // SAMPSTAT
	Ancestry  string // ANCEST: the pedigree after Purdy et al.
}

// breedersLine is SAMPSTAT 410, "breeder's line".
const breedersLine = "410"

// mostNames is how many names an ANCEST has at most.
const mostNames = 64

// Holder is what the passports of a grower's plants have in common.
type Holder struct {
	Institute      string // FAO WIEWS code; may be empty
	Breeder        string // a name; may be empty
	Genus, Species string
}

// Passports describes the crosses and seedlings in use that are within one of
// some identifiers, or all for none, crosses first, each in the order of its
// file. The error is a *CycleError where the crosses contradict themselves.
func Passports(r *registry.Registry, h Holder, only []ids.ID) ([]Passport, error) {
	p := NewPedigree(r)
	var all []Passport
	add := func(id ids.ID, acquired string) error {
		if r.Status(id) == registry.Voided || !isWithin(id, only) {
			return nil
		}
		pass, err := p.passport(h, id)
		pass.Acquired = acquired
		all = append(all, pass)
		return err
	}
	for _, c := range r.Crosses() {
		acquired := acqDate(c.Pollinated)
		if acquired == "" {
			acquired = fmt.Sprintf("%04d----", c.ID.Year)
		}
		if err := add(c.ID, acquired); err != nil {
			return nil, err
		}
	}
	for _, s := range r.Seedlings() {
		if err := add(s.ID, acqDate(s.Pricked)); err != nil {
			return nil, err
		}
	}
	return all, nil
}

// passport is all but the date.
func (p *Pedigree) passport(h Holder, id ids.ID) (Passport, error) {
	plant, err := p.Plant(id)
	if err != nil {
		return Passport{}, err
	}
	pass := Passport{Institute: h.Institute, Number: id.String(), Genus: h.Genus, Species: h.Species,
		Breeder: oneValue(h.Breeder), Status: breedersLine}
	if h.Genus == "Malus" {
		pass.Crop = "apple"
	}
	if !plant.IsFounder() {
		pass.Name = oneValue(plant.Seed.String() + " × " + plant.Pollen.String())
		ancestry, _ := p.Purdy(plant, mostNames)
		pass.Ancestry = oneValue(ancestry)
	}
	return pass, nil
}

// acqDate writes a day as ACQDATE has it; "" where it is not known.
func acqDate(d registry.Date) string { return strings.ReplaceAll(d.String(), "-", "") }

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
	{"BREDNAME", func(p *Passport) string { return p.Breeder }},
	{"SAMPSTAT", func(p *Passport) string { return p.Status }},
	{"ANCEST", func(p *Passport) string { return p.Ancestry }},
}

// WritePassports writes passports as CSV with CRLF after each record (RFC
// 4180), in UTF-8 behind a byte order mark, so that spreadsheets show names
// right. Columns that are empty throughout are left out, except ACCENUMB.
//
// A cell that a spreadsheet would take for a formula gets an apostrophe in
// front; what already begins with apostrophes before such a cell gets one more,
// so that taking one off always gives the text back.
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
			record[j] = registry.Guard(d.of(&all[i]))
		}
		if err := out.Write(record); err != nil {
			return err
		}
	}
	out.Flush()
	return out.Error()
}
