package symbol

import "testing"

// A code in the place of another keeps its kind, its number of modules and its
// module; capacities are those of ISO/IEC 18004, table 7.
func TestCarrying(t *testing.T) {
	at := Choice{Kind: QR, Level: 'M', Size: 29, Payload: payloadOf(61), Dots: 10, DPI: 600}
	for n, level := range map[int]byte{1: 'H', 16: 'H', 35: 'H', 36: 'Q', 47: 'Q', 48: 'M', 61: 'M'} {
		c, ok := at.Carrying(payloadOf(n))
		if !ok || c.Level != level || c.Size != 29 || c.Dots != 10 {
			t.Errorf("%d characters: %v, %v", n, c, ok)
			continue
		}
		s, err := c.Encode()
		if err != nil || s.Size != 29 || s.Choice != c {
			t.Errorf("%d characters: %v, %v", n, s, err)
		}
	}
	if c, ok := at.Carrying(payloadOf(62)); ok {
		t.Errorf("62 characters at level L beside level M: %v", c)
	}
	weak := at
	weak.Level = 'L'
	if c, ok := weak.Carrying(payloadOf(77)); !ok || c.Level != 'L' {
		t.Errorf("77 characters: %v, %v", c, ok)
	}
	if c, ok := weak.Carrying(payloadOf(78)); ok {
		t.Errorf("78 characters: %v", c)
	}
	if c, ok := at.Carrying("ä"); ok {
		t.Errorf("a letter that is in no code: %v", c)
	}
	matrix := Choice{Kind: DataMatrix, Size: 16, Payload: "2026X012-B2.3/1", Dots: 10, DPI: 600}
	c, ok := matrix.Carrying("123456") // 3 codewords, ISO/IEC 16022
	if s, err := c.Encode(); !ok || err != nil || s.Size != 10 || c.Size != 10 {
		t.Errorf("123456 in the place of 16×16: %v, %v, %v", c, ok, err)
	}
	if c, ok := matrix.Carrying("ABCDEFGHIJKLM"); ok {
		t.Errorf("13 codewords in 16×16: %v", c)
	}
}
