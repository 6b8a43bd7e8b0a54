package season

import (
	"fmt"
	"strings"
)

// Purdy writes a plant's pedigree in the notation of Purdy et al., Crop
// Science 8 (1968) 405–406: the female parent left, the male parent right; the
// first cross "/", the second "//", the third "/3/", the last with the highest
// number. A parent used as the male three times or more in a row has that
// number behind an asterisk: A/B*3 is A/B//B/3/B. A founder that is called
// something with a slash or an asterisk stands in quotation marks.
//
// At most most names are written. Where there would be more, the oldest
// generations are left out, own identifiers stand for what they hide, and whole
// is false.
func (p *Pedigree) Purdy(plant *Plant, most int) (text string, whole bool) {
	w := purdy{names: map[cut]int{}, most: most}
	depth := 0
	for depth < plant.generation && w.count(cut{plant, depth + 1}) <= most {
		depth++
	}
	text, _ = w.write(plant, depth)
	return text, depth == plant.generation
}

// purdy writes one pedigree.
type purdy struct {
	names map[cut]int // how many names a plant takes
	most  int
}

// cut is a plant with so many generations of its ancestors.
type cut struct {
	plant *Plant
	depth int
}

// atom reports whether the plant is written as a name.
func (c cut) atom() bool { return c.depth == 0 || c.plant.IsFounder() }

// count is how many names are written for a plant; one more than most stands
// for all that is above. Backcrosses count in full.
func (w purdy) count(c cut) int {
	if c.atom() {
		return 1
	}
	if n, ok := w.names[c]; ok {
		return n
	}
	n := min(w.most+1, w.count(cut{c.plant.Seed, c.depth - 1})+w.count(cut{c.plant.Pollen, c.depth - 1}))
	w.names[c] = n
	return n
}

// write returns the text of a plant and the order of its last cross; 0 for a
// name.
func (w purdy) write(plant *Plant, depth int) (text string, order int) {
	if (cut{plant, depth}).atom() {
		return purdyName(plant), 0
	}
	base, doses := plant.backcross(depth)
	if doses >= leastDoses {
		left, order := w.write(base, depth-doses)
		order++
		return fmt.Sprintf("%s%s%s*%d", left, slashes(order), purdyName(plant.Pollen), doses), order
	}
	left, m := w.write(plant.Seed, depth-1)
	right, n := w.write(plant.Pollen, depth-1)
	order = 1 + max(m, n)
	return left + slashes(order) + right, order
}

// leastDoses is how often a parent is used in a row before it is written once,
// with a number.
const leastDoses = 3

// backcross returns how often in a row, and at most depth times, the plant's
// pollen parent was used as such, and what it was used on at first. It counts
// only a parent that is written as a name.
func (p *Plant) backcross(depth int) (base *Plant, doses int) {
	recurrent := p.Pollen
	if !recurrent.IsFounder() || recurrent.unknown {
		return p, 0
	}
	for base = p; doses < depth && !base.IsFounder() && base.Pollen == recurrent; base = base.Seed {
		doses++
	}
	if base == recurrent { // begun with a selfing
		return p, 0
	}
	return base, doses
}

// slashes is the sign of the cross of an order.
func slashes(order int) string {
	if order < 3 {
		return strings.Repeat("/", order)
	}
	return fmt.Sprintf("/%d/", order)
}

func purdyName(plant *Plant) string {
	name := plant.String()
	if strings.ContainsAny(name, `/*"`) {
		return `"` + strings.ReplaceAll(name, `"`, `""`) + `"`
	}
	return name
}
