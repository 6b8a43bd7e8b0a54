package layout

// CardStock is the page of codes that a scanning session understands: so far
// apart that a hand scanner sees one at a time.
func CardStock() Stock {
	s := dieCut(A4, 3, 8, 63, 34, 10.5, 11, 63, 34)
	s.Name = "card"
	return s
}
