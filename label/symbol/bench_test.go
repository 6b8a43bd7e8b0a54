package symbol

import "testing"

func BenchmarkEncode(b *testing.B) {
	for _, c := range []struct {
		name    string
		kind    Kind
		level   byte
		payload string
	}{
		{"QR/compact", QR, 'Q', payloadOf(15)},
		{"QR/full", QR, 'L', payloadOf(63)},
		{"QR/longest", QR, 'L', payloadOf(maxPayload)},
		{"DataMatrix/compact", DataMatrix, 0, payloadOf(15)},
		{"DataMatrix/full", DataMatrix, 0, payloadOf(63)},
	} {
		b.Run(c.name, func(b *testing.B) {
			b.ReportAllocs()
			for b.Loop() {
				if _, err := Encode(c.kind, c.level, c.payload, 10, 600); err != nil {
					b.Fatal(err)
				}
			}
		})
	}
}

// A face chooses again and again while it looks for its arrangement, so a
// choice should cost next to nothing beside the encoding, and so should a
// refusal.
func BenchmarkChoose(b *testing.B) {
	full, compact := payloadOf(63), payloadOf(15)
	for _, c := range []struct {
		name string
		side float64
	}{
		{"full", 18}, {"compact", 13}, {"DataMatrix", 9}, {"refused", 5},
	} {
		b.Run(c.name, func(b *testing.B) {
			b.ReportAllocs()
			for b.Loop() {
				_, err := Choose(Room{c.side, c.side, 600}, full, compact)
				if (err != nil) != (c.name == "refused") {
					b.Fatal(err)
				}
			}
		})
	}
}
