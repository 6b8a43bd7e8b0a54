package words

// Nearest returns the candidate that a mistyped word was probably meant to be:
// at most a third of its letters, and at least one, differ. Of two that are as
// near, it is the first.
func Nearest(word string, candidates []string) (string, bool) {
	best, least := "", max(1, len([]rune(word))/3)+1
	for _, c := range candidates {
		if d := Distance(word, c); d < least {
			best, least = c, d
		}
	}
	return best, best != ""
}

// Distance counts the letters to add, drop, change or swap with the next one
// on the way from a to b (Damerau 1964).
func Distance(a, b string) int {
	s, t := []rune(a), []rune(b)
	rows := make([][]int, len(s)+1)
	for i := range rows {
		rows[i] = make([]int, len(t)+1)
		rows[i][0] = i
	}
	for j := range rows[0] {
		rows[0][j] = j
	}
	for i := 1; i <= len(s); i++ {
		for j := 1; j <= len(t); j++ {
			change := rows[i-1][j-1]
			if s[i-1] != t[j-1] {
				change++
			}
			rows[i][j] = min(change, rows[i-1][j]+1, rows[i][j-1]+1)
			if i > 1 && j > 1 && s[i-1] == t[j-2] && s[i-2] == t[j-1] {
				rows[i][j] = min(rows[i][j], rows[i-2][j-2]+1)
			}
		}
	}
	return rows[len(s)][len(t)]
}
