package symbol

import "fmt"

// lookAlikes are characters that people take for one another on a label, and what
// else each may be. The letters of an identifier leave out O and I, so those stand
// for nothing else.
var lookAlikes = map[byte]string{
	'O': "0", 'o': "0", 'Q': "0", 'D': "0", '0': "QD", 'I': "1", 'i': "1", 'l': "1", 'L': "1", '1': "L",
	'S': "5", 's': "5", '5': "S", 'Z': "2", 'z': "2", '2': "Z", 'B': "8", 'b': "68", '8': "B", 'G': "6", '6': "G", 'g': "9",
}

// misreading is a text with characters put back for others that look alike.
type misreading struct{ text, why string }

// misread lists what a text may have been where one character, or two, were taken
// for others that look alike; one comes before two.
func misread(head string) []misreading {
	one := swapped(head, 0, "")
	all := one
	for _, m := range one {
		all = append(all, swapped(m.text, m.at+1, m.why+" and ")...)
	}
	var out []misreading
	for _, m := range all {
		out = append(out, m.misreading)
	}
	return out
}

// swap is a misreading and where its last change is.
type swap struct {
	misreading
	at int
}

// swapped are the texts with one character behind from put back.
func swapped(text string, from int, before string) []swap {
	var out []swap
	for i := from; i < len(text); i++ {
		for _, was := range lookAlikes[text[i]] {
			out = append(out, swap{misreading{text[:i] + string(was) + text[i+1:], fmt.Sprintf("%s%q was taken for %q", before, string(was), text[i:i+1])}, i})
		}
	}
	return out
}
