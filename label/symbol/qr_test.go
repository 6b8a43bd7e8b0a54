package symbol

import (
	"testing"

	"github.com/boombuler/barcode/qr"
)

// Module for module, mask included, the code is the one that another encoder
// with the standard's masking rule makes, but where its data imitate a finder
// pattern: then ours do so less, and say the same.
func TestQRIsThatOfAnotherEncoder(t *testing.T) {
	step, leastSame, leastBetter := 1, 300, 100
	if testing.Short() {
		step, leastSame, leastBetter = 12, 20, 5
	}
	same, better := 0, 0
	for n := 1; n <= maxPayload; n += step {
		for l := range levels {
			if n > qrCapacity[len(qrCapacity)-1][l] {
				continue
			}
			payload := payloadOf(n)
			ours, err := Encode(QR, levels[l], payload, 4, 300)
			if err != nil {
				t.Fatal(err)
			}
			code, err := qr.Encode(payload, qr.ErrorCorrectionLevel(l), qr.AlphaNumeric)
			if err != nil {
				t.Fatal(err)
			}
			theirs := &Symbol{Choice: ours.Choice, modules: rowsOfBarcode(code)}
			switch before, after := imitations(theirs), imitations(ours); {
			case picture(ours) == picture(theirs):
				same++
			case after < before:
				better++
				compareCodewords(t, ours, theirs)
			default:
				t.Errorf("%d characters, level %c: %d imitations in\n%s\n%d in the other encoder's\n%s",
					n, levels[l], after, picture(ours), before, picture(theirs))
			}
		}
	}
	t.Logf("%d symbols are the same, %d imitate fewer finder patterns", same, better)
	if same < leastSame || better < leastBetter {
		t.Errorf("%d symbols are the same, %d imitate fewer finder patterns: that tells little", same, better)
	}
}

// imitations counts the modules outside the finder patterns that readers may
// take for part of the middle of one.
func imitations(s *Symbol) int {
	n := 0
	for y := range s.Size {
		for x := range s.Size {
			corner := x < 8 && (y < 8 || y >= s.Size-8) || x >= s.Size-8 && y < 8
			if !corner && likeFinder(s.Dark, s.Size, x, y) {
				n++
			}
		}
	}
	return n
}

// likeFinder reports whether readers may take a module for part of the middle of
// a finder pattern: in the middle run of 1:1:3:1:1 modules along the row or the
// column, and of 1:1:2:1:1 to 1:1:5:1:1 along the other.
func likeFinder(dark func(x, y int) bool, size, x, y int) bool {
	middle := func(dark func(int) bool, at, least, most int) bool {
		runs := [5]int{}
		count := func(i, by, run int, colour bool) int {
			for ; i >= 0 && i < size && dark(i) == colour; i += by {
				runs[run]++
			}
			return i
		}
		count(count(count(at, -1, 2, true), -1, 1, false), -1, 0, true)
		count(count(count(at+1, 1, 2, true), 1, 3, false), 1, 4, true)
		return runs[0] == 1 && runs[1] == 1 && runs[2] >= least && runs[2] <= most && runs[3] == 1 && runs[4] == 1
	}
	row := func(i int) bool { return dark(i, y) }
	column := func(i int) bool { return dark(x, i) }
	return dark(x, y) && (middle(row, x, 3, 3) && middle(column, y, 2, 5) || middle(row, x, 2, 5) && middle(column, y, 3, 3))
}

// A payload whose symbol with the standard's mask a reader in wide use cannot
// read, because its data imitate a finder pattern above the third one; ours it
// reads, whichever way up.
func TestNoDataForAFinderPattern(t *testing.T) {
	const payload = "2026X012-B2.3/1 7 SOWN 2027-01-14 LARKFIELD TESSEL X TARN AMBER"
	code, err := qr.Encode(payload, qr.L, qr.AlphaNumeric)
	if err != nil {
		t.Fatal(err)
	}
	ours, err := Encode(QR, 'L', payload, 4, 300)
	if err != nil {
		t.Fatal(err)
	}
	theirs := &Symbol{Choice: ours.Choice, modules: rowsOfBarcode(code)}
	if text, err := decode(theirs); err == nil {
		t.Errorf("the reader copes with the imitation now: it reads %q; another reader should be tried", text)
	}
	for turn := range 4 {
		turned := &Symbol{Choice: ours.Choice, modules: rowsFrom(ours.Size, func(x, y int) bool {
			for range turn {
				x, y = y, ours.Size-1-x
			}
			return ours.Dark(x, y)
		})}
		if text, err := decode(turned); err != nil || text != payload {
			t.Errorf("turned %d times: read %q, %v", turn, text, err)
		}
	}
}
