package label

import "pipstake/ids"

// tile is the head of a stake, set across it so that it reads upright in the
// pot: the number of the cross over lot and pot. On all labels of a batch it is
// of one size.
type tile struct {
	room       Room
	size, caps float64 // the em and the height of its letters, in millimetres
	width      float64 // along the stake
}

// tileLeading is the distance of the tile's lines, in heights of its letters.
const tileLeading = 1.3

// tileWords are the two lines of a tile: "012" and "B2".
func tileWords(id ids.ID) (number, below string) {
	cross, below := halves(id)
	return cross[len("2026X"):], below
}

func newTile(b *batch) *tile {
	var widest, above float64
	for _, f := range b.faces {
		number, below := tileWords(f.about().id)
		widest = max(widest, Signs.Width(number), Signs.Width(below))
		above1, _ := Signs.Extent(number)
		above2, _ := Signs.Extent(below)
		above = max(above, above1, above2)
	}
	safe := b.room.Safe()
	size := min(Signs.em(tileCaps), safe.H/widest)
	high := size * above
	return &tile{b.room, size, high, high * (1 + tileLeading)}
}

func (t *tile) draw(b *batch, i int, d *Drawing) {
	number, below := tileWords(b.faces[i].about().id)
	safe := t.room.Safe()
	for n, words := range []string{number, below} {
		x := safe.X + t.caps*(1+float64(n)*tileLeading)
		y := safe.Y + (safe.H+Signs.Width(words)*t.size)/2
		d.Texts = append(d.Texts, newUpward(x, y, t.size, Signs, words))
	}
}
