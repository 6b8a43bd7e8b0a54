package main

import (
	"fmt"
	"slices"
	"strconv"
	"strings"

	"pipstake/ids"
	"pipstake/ids/registry"
	"pipstake/ids/words"
	"pipstake/layout"
)

// offerSources tell what may stand for a word of a usage line, such as LOT.
var offerSources = map[string]func(*offer) []offered{
	"CROSS":   func(o *offer) []offered { return o.identifiers(ids.CrossLevel) },
	"LOT":     func(o *offer) []offered { return o.identifiers(ids.LotLevel) },
	"POT":     func(o *offer) []offered { return o.identifiers(ids.PotLevel) },
	"ID":      allIdentifiers,
	"CODE":    allIdentifiers,
	"CROSSES": func(o *offer) []offered { return o.commaList(o.identifiers(ids.CrossLevel)) },
	"ID,ID":   func(o *offer) []offered { return o.commaList(allIdentifiers(o)) },
	"FRAME":   placeOffers,
	"SEED":    parentOffers,
	"POLLEN":  parentOffers,
	"VARIETY": varietyOffers,
	"COMMAND": commandOffers,
	"STOCK":   stockOffers,
	"PRINTER": printerOffers,
	"BATCH":   batchOffers,
	"DATE":    dayOffers,
	"FILE":    func(*offer) []offered { return slices.Clone(anyFile) },
	"DIR":     func(*offer) []offered { return slices.Clone(anyFolder) },
	"FOLDER":  func(*offer) []offered { return slices.Clone(anyFolder) },
}

// source is what may stand for a word of a usage line; nothing where only the
// user can know.
func (o *offer) source(placeholder string) []offered {
	if strings.Contains(placeholder, "|") {
		return plainOffers(strings.Split(placeholder, "|"))
	}
	if find := offerSources[placeholder]; find != nil {
		return find(o)
	}
	return nil
}

func plainOffers(typed []string) []offered {
	var all []offered
	for _, w := range typed {
		all = append(all, offered{word: w})
	}
	return all
}

func commandOffers(o *offer) []offered {
	var all []offered
	for _, c := range o.env.commands {
		all = append(all, offered{c.name, c.summary})
	}
	return all
}

// registry is the registry that the line names, or the one that holds good
// here; nil where there is none that can be read.
func (o *offer) registry() *registry.Registry {
	if o.read {
		return o.r
	}
	o.read = true
	if dir, err := o.env.registryDir(o.given["registry"]); err == nil {
		o.r, _ = registry.Open(dir) // nil where it cannot be read
	}
	return o.r
}

// identifiers are those of a level that are in use and not on the line yet.
func (o *offer) identifiers(level ids.Level) []offered {
	r := o.registry()
	if r == nil {
		return nil
	}
	var found []ids.ID
	switch level {
	case ids.CrossLevel:
		for _, c := range r.Crosses() {
			found = append(found, c.ID)
		}
	case ids.LotLevel:
		for _, l := range r.Lots() {
			found = append(found, l.ID)
		}
	case ids.PotLevel:
		for _, p := range r.Pots() {
			found = append(found, p.ID)
		}
	case ids.SeedlingLevel:
		for _, s := range r.Seedlings() {
			found = append(found, s.ID)
		}
	}
	var all []offered
	for _, id := range found {
		if r.Status(id) != registry.Issued || slices.Contains(o.args, id.String()) {
			continue
		}
		about := id.Level().String()
		if c, ok := r.Cross(id.At(ids.CrossLevel)); ok {
			about += ": " + words.OneLine(c.SeedParent) + " × " + words.OneLine(c.PollenParent)
		}
		all = append(all, offered{id.String(), about})
	}
	return all
}

func allIdentifiers(o *offer) []offered {
	return slices.Concat(o.identifiers(ids.CrossLevel), o.identifiers(ids.LotLevel), o.identifiers(ids.PotLevel), o.identifiers(ids.SeedlingLevel))
}

// commaList completes the last of words with commas between them.
func (o *offer) commaList(all []offered) []offered {
	return prefixed(all, o.typed[:strings.LastIndex(o.typed, ",")+1])
}

// placeOffers are where pots stand.
func placeOffers(o *offer) []offered {
	r := o.registry()
	if r == nil {
		return nil
	}
	var places []string
	for _, p := range r.Pots() {
		places = append(places, p.Place)
	}
	return namesOffered(places)
}

// namesOffered are names, each once, that can be typed.
func namesOffered(names []string) []offered {
	slices.Sort(names)
	return plainOffers(slices.DeleteFunc(slices.Compact(names), func(name string) bool { return name == "" || words.Clean(words.OneLine(name)) != name }))
}

// parentOffers are the names of parents that are known, and the grower's own
// seedlings.
func parentOffers(o *offer) []offered {
	return append(varietyOffers(o), o.identifiers(ids.SeedlingLevel)...)
}

// varietyOffers are the names of parents that are known.
func varietyOffers(o *offer) []offered {
	r := o.registry()
	if r == nil {
		return nil
	}
	var names []string
	for _, known := range r.Names().All() {
		names = append(names, known.Name)
	}
	return namesOffered(names)
}

func stockOffers(o *offer) []offered {
	var all []offered
	for _, s := range layout.Stocks() {
		all = append(all, offered{s.Name, words.Plural(s.PerSheet(), "label", "labels")})
	}
	if r := o.registry(); r != nil {
		for _, s := range r.Stocks() {
			all = append(all, offered{s.Name, "your own"})
		}
	}
	return all
}

func printerOffers(o *offer) []offered {
	r := o.registry()
	if r == nil {
		return nil
	}
	var names []string
	for _, a := range r.Adjustments() {
		names = append(names, a.Printer)
	}
	return namesOffered(names)
}

// batchOffers are the batches that were printed, the last one first.
func batchOffers(o *offer) []offered {
	r := o.registry()
	if r == nil {
		return nil
	}
	labels := map[int][]registry.Label{}
	for _, l := range r.Labels() {
		labels[l.Batch] = append(labels[l.Batch], l)
	}
	var all []offered
	for n, of := range labels {
		all = append(all, offered{strconv.Itoa(n), fmt.Sprintf("%s, printed %s", faceNoun(of[0].Face, len(of)), of[0].Printed)})
	}
	slices.SortFunc(all, func(a, b offered) int {
		if len(a.word) != len(b.word) {
			return len(b.word) - len(a.word)
		}
		return strings.Compare(b.word, a.word)
	})
	return all
}

// dayOffers are today and yesterday.
func dayOffers(o *offer) []offered {
	now := o.env.now()
	return []offered{
		{registry.DateOf(now).String(), "today"},
		{registry.DateOf(now.AddDate(0, 0, -1)).String(), "yesterday"},
	}
}
