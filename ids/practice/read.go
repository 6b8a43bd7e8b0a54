package practice

import (
	"errors"
	"fmt"
	"io/fs"
	"maps"
	"path/filepath"
	"slices"
	"strings"

	"github.com/pelletier/go-toml/v2"
	"github.com/pelletier/go-toml/v2/unstable"

	"pipstake/ids"
	"pipstake/ids/plainfile"
	"pipstake/ids/problem"
	"pipstake/ids/registry"
	"pipstake/ids/season"
	"pipstake/ids/words"
)

// mostBytes is far more than a protocol holds.
const mostBytes = 16 << 20

// Of reads the protocol of a registry. Where there is no file, common
// practice holds. The error is a *problem.Problem: of the data, with file, line,
// key and value, or of access.
func Of(r *registry.Registry) (season.Practice, error) {
	path := filepath.Join(r.Dir(), File)
	text, err := plainfile.Read(path, mostBytes)
	if errors.Is(err, fs.ErrNotExist) {
		return season.Practice{Protocol: season.CommonPractice()}, nil
	}
	if err != nil {
		return season.Practice{}, problem.Access(err)
	}
	return Parse(text)
}

// reader reads a protocol from its file.
type reader struct {
	values  map[string]any
	entries []entry
	faults  []*problem.Problem
}

// entry is a key of the file with the line it stands on, or a table's head.
type entry struct {
	path []string
	line int
	head bool
}

// fault notes something wrong with an entry.
func (r *reader) fault(e entry, value any, what, hint string) {
	where := fmt.Sprintf("%s line %d, %s", File, e.line, strings.Join(e.path, "."))
	if value != nil {
		where += " " + words.Shown(fmt.Sprint(value))
	}
	r.faults = append(r.faults, problem.Data(where+": "+what, hint))
}

// Parse reads a protocol from the text of its file.
func Parse(text []byte) (season.Practice, error) {
	text = []byte(strings.TrimPrefix(string(text), "\ufeff")) // of an editor
	r := &reader{}
	if err := toml.Unmarshal(text, &r.values); err != nil {
		return season.Practice{}, tomlFault(err)
	}
	r.findEntries(text)
	practice := season.Practice{Protocol: season.CommonPractice(), Crosses: map[ids.ID]season.Protocol{}}
	r.apply(&practice.Protocol, nil)
	for _, id := range r.crosses() {
		own := practice.Protocol
		own.Labels.OnStock = maps.Clone(own.Labels.OnStock)
		r.apply(&own, []string{"cross", id.String()})
		practice.Crosses[id] = own
	}
	if len(r.faults) == 0 {
		return practice, nil
	}
	first := r.faults[0]
	if n := len(r.faults) - 1; n > 0 {
		first.What += fmt.Sprintf(" (%s)", words.Plural(n, "more value is wrong", "more values are wrong"))
	}
	return season.Practice{}, first
}

// tomlFault words a mistake in the grammar.
func tomlFault(err error) error {
	var d *toml.DecodeError
	if !errors.As(err, &d) {
		return problem.Data(File+": "+err.Error(), "look at what was changed last")
	}
	line, column := d.Position()
	what := strings.TrimPrefix(d.Error(), "toml: ")
	where := fmt.Sprintf("%s line %d, character %d", File, line, column)
	if key := d.Key(); len(key) > 0 {
		where += ", " + strings.Join(key, ".")
	}
	return problem.Data(where+": "+what, `write a key, =, and a value: a number, or a text in quotes`)
}

// findEntries lists the keys of the file in its order.
func (r *reader) findEntries(text []byte) {
	p := unstable.Parser{}
	p.Reset(text)
	var table []string
	for p.NextExpression() {
		node := p.Expression()
		var path []string
		line := 0
		for keys := node.Key(); keys.Next(); {
			key := keys.Node()
			if line == 0 {
				line = p.Shape(key.Raw).Start.Line
			}
			path = append(path, string(key.Data))
		}
		switch node.Kind {
		case unstable.ArrayTable:
			table = nil
			r.fault(entry{path, line, true}, nil, "each table stands once", "write ["+strings.Join(path, ".")+"]")
		case unstable.Table:
			table = path
			r.entries = append(r.entries, entry{path, line, true})
		case unstable.KeyValue:
			if len(r.faults) == 0 { // else table is none
				r.addEntries(entry{slices.Concat(table, path), line, false})
			}
		}
	}
}

// addEntries adds a key, and for an inline table the keys within it.
func (r *reader) addEntries(e entry) {
	inline, ok := r.value(e.path).(map[string]any)
	if !ok {
		r.entries = append(r.entries, e)
		return
	}
	e.head = true
	r.entries = append(r.entries, e)
	for _, key := range slices.Sorted(maps.Keys(inline)) {
		r.addEntries(entry{slices.Concat(e.path, []string{key}), e.line, false})
	}
}

// value looks a key up.
func (r *reader) value(path []string) any {
	var value any = r.values
	for _, key := range path {
		table, ok := value.(map[string]any)
		if !ok {
			return nil
		}
		value = table[key]
	}
	return value
}

// crosses are those that the file has tables for, in the order of the file.
func (r *reader) crosses() []ids.ID {
	var found []ids.ID
	for _, e := range r.entries {
		if e.path[0] != "cross" || len(e.path) < 2 {
			continue
		}
		read, err := ids.Parse(e.path[1])
		switch {
		case err != nil:
			r.fault(e, nil, problem.First(err).What, "name the cross as its label does: [cross.2026X012.cold]")
		case read.ID.Level() != ids.CrossLevel || read.ID.String() != e.path[1]:
			r.fault(e, nil, "this is not how a cross is written", "write [cross."+read.ID.At(ids.CrossLevel).String()+"]")
		case !slices.Contains(found, read.ID):
			found = append(found, read.ID)
		}
	}
	return found
}

// apply puts the values that stand below a prefix into a protocol.
func (r *reader) apply(p *season.Protocol, prefix []string) {
	last := map[string]entry{} // of each table
	for _, e := range r.entries {
		if len(e.path) < len(prefix) || !slices.Equal(e.path[:len(prefix)], prefix) || prefix == nil && e.path[0] == "cross" && len(e.path) > 1 {
			continue
		}
		if name := strings.Join(e.path[len(prefix):], "."); name != "" {
			r.take(p, e, name)
			table, _, _ := strings.Cut(name, ".")
			last[table] = e
		}
	}
	if e, ok := last["disinfecting"]; ok && p.Disinfecting.Kind.IsLiquid() && p.Disinfecting.ML == 0 && len(r.faults) == 0 {
		r.fault(e, nil, fmt.Sprintf("%s is a liquid, and ml is missing", p.Disinfecting.Kind), "write how many ml go into water_ml: ml = 50")
	}
	for _, c := range []struct {
		table, what string
		wrong       bool
	}{
		{"soaking", fmt.Sprintf("the water is changed every %d hours, but the soak lasts %d", p.Soaking.ChangeHours, p.Soaking.Hours), p.Soaking.ChangeHours > p.Soaking.Hours},
		{"cold", fmt.Sprintf("least_days is %d and most_days is %d", p.Cold.LeastDays, p.Cold.MostDays), p.Cold.LeastDays > p.Cold.MostDays},
		{"fruit", fmt.Sprintf("least_seeds is %d and most_seeds is %d", p.Fruit.LeastSeeds, p.Fruit.MostSeeds), p.Fruit.LeastSeeds > p.Fruit.MostSeeds},
	} {
		if e, ok := last[c.table]; ok && c.wrong && len(r.faults) == 0 {
			r.fault(e, r.plainValue(e), c.what, "make the first the smaller one")
		}
	}
}

// plainValue is the value of a key that is no table.
func (r *reader) plainValue(e entry) any {
	if e.head {
		return nil
	}
	return r.value(e.path)
}

// take puts one entry into a protocol; name is its path within it.
func (r *reader) take(p *season.Protocol, e entry, name string) {
	if e.head {
		if !knownTable(name) {
			r.fault(e, nil, "there is no such table", nearTable(name))
		}
		return
	}
	value := r.value(e.path)
	if stock, ok := strings.CutPrefix(name, outdoorTable+"."); ok {
		r.takeStock(p, e, stock, value)
		return
	}
	for _, s := range settings {
		if s.path() == name {
			if err := s.put(p, value); err != nil {
				r.fault(e, value, "this is no value for it", err.Error())
			}
			return
		}
	}
	r.fault(e, value, "there is no such key", nearSetting(name))
}

func (r *reader) takeStock(p *season.Protocol, e entry, stock string, value any) {
	s := setting{least: mostOutdoor.least, most: mostOutdoor.most, wanted: "days"}
	var days int
	s.field = func(*season.Protocol) any { return &days }
	if err := s.put(p, value); err != nil {
		r.fault(e, value, "this is no value for it", err.Error())
		return
	}
	p.Labels.OnStock[stock] = days
}

func knownTable(name string) bool {
	return name == outdoorTable || name == "cross" || slices.ContainsFunc(settings, func(s setting) bool { return s.table == name })
}

// nearTable advises on a table that there is not.
func nearTable(name string) string {
	var names []string
	for _, t := range tables {
		names = append(names, t.name)
	}
	if near, ok := words.Nearest(name, append(names, outdoorTable)); ok {
		return "did you mean [" + near + "]?"
	}
	return "the tables are " + words.List(names)
}

// nearSetting advises on a key that there is not.
func nearSetting(name string) string {
	var names, keys []string
	table, _, _ := strings.Cut(name, ".")
	for _, s := range settings {
		names = append(names, s.path())
		if s.table == table {
			keys = append(keys, s.key)
		}
	}
	if near, ok := words.Nearest(name, names); ok {
		return "did you mean " + near + "?"
	}
	if keys != nil {
		return "the keys of [" + table + "] are " + words.List(keys)
	}
	return nearTable(table)
}

// Check are what check has to say of the protocol.
func Check(r *registry.Registry) []registry.Finding {
	_, err := Of(r)
	var wrong *problem.Problem
	if !errors.As(err, &wrong) || wrong.Kind != problem.OfData {
		return nil // commands that read it say why they cannot
	}
	return []registry.Finding{{File: File, What: strings.TrimPrefix(wrong.What, File+" "), Remedy: wrong.Remedy}}
}
