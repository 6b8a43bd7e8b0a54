package main

import (
	"bytes"
	"cmp"
	"fmt"
	"regexp"

	"pipstake/ids/practice"
	"pipstake/ids/problem"
	"pipstake/ids/registry"
	"pipstake/ids/season"
	"pipstake/ids/words"
)

var passportCommand = command{
	name:      "passport",
	summary:   "export seed lots and seedlings for a gene bank",
	arguments: "[ID…]",
	options:   "--out FILE [--institute CODE] [--origin COUNTRY] [--breeder NAME]",
	help: `Writes a CSV file with the passport of what you hold: every seed lot with seed
in it, which is segregating progeny (SAMPSTAT 415), and every seedling and
selection that grows (410, breeder's line); or those within the identifiers
named. The columns are those of the FAO/Bioversity multi-crop passport
descriptors V2.1 that apply to what a grower bred: ACCENUMB is the identifier,
ACCENAME the name of a selection, ACQDATE the day on which the seed was taken
out or came, or the seedling was pricked out, ANCEST the pedigree in the
notation of Purdy et al. 1968. A part of a date that is not known is written as
hyphens: 2024----. Institute and country are settings of protocol.toml, under
[passport].

  pipstake passport --out passport.csv
  pipstake passport 2026X012 --out passport.csv --institute ABC123 --origin NOR
  pipstake passport --out - | less`,
	define: func(f *flags) action {
		out := f.text("out", "the CSV `FILE`, - for standard output")
		force := f.onOff("force", "replace a CSV file that exists")
		institute := f.text("institute", "INSTCODE, the FAO WIEWS `CODE` of who holds the plants")
		origin := f.text("origin", "ORIGCTY, the `COUNTRY` in which they were bred, by ISO 3166-1: NOR")
		breeder := f.text("breeder", "BREDNAME, the `NAME` of who bred them")
		genus := f.text("genus", "the `GENUS`; Malus where left out")
		species := f.text("species", "the specific `EPITHET`; domestica where left out, sp. where it is not known")
		dir := f.registry()
		return func(e *env, args []string) error {
			h := season.Holder{Institute: *institute, Origin: *origin, Breeder: *breeder, Genus: *genus, Species: *species}
			if err := completeHolder(&h); err != nil {
				return err
			}
			if *out == "" {
				return problem.Use("passport: --out is missing", "name the file: --out passport.csv, or - for standard output")
			}
			t, err := e.targetOf(passportFile, "--out", *out, *force)
			if err != nil {
				return err
			}
			return e.passport(*dir, t, h, args)
		}
	},
}

// passportFile begins with a column name, behind a byte order mark.
var passportFile = fileKind{noun: "a passport file", starts: []string{"\ufeffINSTCODE,", "\ufeffACCENUMB,"}}

// The forms that the descriptor list gives.
var (
	instituteForm = regexp.MustCompile(`^[A-Z]{3}[0-9]{3,4}$`)
	countryForm   = regexp.MustCompile(`^[A-Z]{3}$`)
	genusForm     = regexp.MustCompile(`^[A-Z][a-z-]+$`)
	speciesForm   = regexp.MustCompile(`^([a-z-]+|sp\.)$`)
)

// completeHolder fills in what was left out and refuses what the descriptors
// do not allow.
func completeHolder(h *season.Holder) error {
	switch {
	case h.Genus == "" && h.Species == "":
		h.Genus, h.Species = "Malus", "domestica"
	case h.Genus == "":
		h.Genus = "Malus"
	case h.Species == "" && h.Genus == "Malus":
		h.Species = "domestica"
	case h.Species == "":
		h.Species = "sp."
	}
	switch {
	case h.Institute != "" && !instituteForm.MatchString(h.Institute):
		return problem.Use(fmt.Sprintf("--institute %q is no FAO WIEWS code", h.Institute), "it is three capital letters and three or four digits, such as ABC123")
	case h.Origin != "" && !countryForm.MatchString(h.Origin):
		return problem.Use(fmt.Sprintf("--origin %q is no country of ISO 3166-1", h.Origin), "it is three capital letters, such as NOR")
	case !genusForm.MatchString(h.Genus):
		return problem.Use(fmt.Sprintf("--genus %q is no genus", h.Genus), "write it with a capital: Malus")
	case !speciesForm.MatchString(h.Species):
		return problem.Use(fmt.Sprintf("--species %q is no specific epithet", h.Species), "write it in small letters and without the genus: domestica")
	}
	return nil
}

func (e *env) passport(dir string, t target, h season.Holder, args []string) error {
	only, err := e.anyIDs(args)
	if err != nil {
		return err
	}
	r, err := e.open(dir)
	if err != nil {
		return err
	}
	for _, id := range only {
		if r.Status(id) == registry.Unknown {
			return unknown(r, id)
		}
	}
	if err := e.settledHolder(r, &h); err != nil {
		return err
	}
	all, left, err := season.Passports(r, h, only)
	switch {
	case err != nil:
		return err
	case len(all) == 0:
		return problem.Use("there is no seed lot with seed in it and no seedling to write a passport for", "name others, or none for all")
	}
	var file bytes.Buffer
	if err := season.WritePassports(&file, all); err != nil {
		return err
	}
	if err := e.deliver(t, file.Bytes()); err != nil || t.stdout() {
		return err
	}
	e.Say("%s in %s", words.Plural(len(all), "passport", "passports"), t.shown)
	for _, line := range leftOutWords(left) {
		e.Notice("left out: %s", line)
	}
	return nil
}

// settledHolder fills in what protocol.toml says of the holder, and notices what
// nobody said.
func (e *env) settledHolder(r *registry.Registry, h *season.Holder) error {
	own, err := practice.Of(r)
	if err != nil {
		return err
	}
	h.Institute, h.Origin = cmp.Or(h.Institute, own.Passport.Institute), cmp.Or(h.Origin, own.Passport.Origin)
	if err := completeHolder(h); err != nil {
		return err
	}
	if h.Institute == "" {
		e.Notice("INSTCODE is missing: put institute into [passport] of %s, or give --institute", practice.File)
	}
	if h.Origin == "" {
		e.Notice("ORIGCTY is missing: put origin into [passport] of %s, or give --origin", practice.File)
	}
	return nil
}

// leftOutWords say what has no passport, and why.
func leftOutWords(l season.LeftOut) []string {
	var all []string
	add := func(n int, one, many, why string) {
		if n > 0 {
			all = append(all, words.Plural(n, one, many)+", "+why)
		}
	}
	add(l.Crosses, "cross", "crosses", "of which neither seed nor a seedling is held")
	add(l.Lots, "seed lot", "seed lots", "in which no seed is known to be")
	add(l.Pots, "pot", "pots", "sown seed is described once it is pricked out")
	add(l.Ended, "seed lot or seedling", "seed lots and seedlings", "ended")
	add(l.Void, "seed lot or seedling", "seed lots and seedlings", "void")
	return all
}
