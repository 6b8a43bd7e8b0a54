package terminal

import (
	"regexp"
	"strings"

	"pipstake/ids/words"
)

// leastText is how many columns text needs that goes on below its own start.
const leastText = 24

var (
	// command is one to copy, up to what ends its clause.
	command = regexp.MustCompile(`\bpipstake [a-z](?:\\['"]|"(?:\\"|[^"])*"|'[^']*'|[^;"'])*`)
	gap     = regexp.MustCompile(`[^ ]( {2,})[^ ]`)
)

// fold returns a line as rows of at most so many columns, broken at spaces.
// Rows after the first start where the text of the line does: below its last
// column, or two columns in. A command to copy stays in one piece, however long
// it is, as it could not be pasted otherwise; so does a word.
func fold(line string, columns int) []string {
	return foldBetween(line, columns, pieces(line, command.FindAllStringIndex(line, -1)))
}

// Fold breaks a line of at most so many columns as fold does, commands too: for
// text that is no line to copy.
func Fold(line string, columns int) string {
	return strings.Join(foldBetween(line, columns, pieces(line, nil)), "\n")
}

func foldBetween(line string, columns int, pieces []string) []string {
	if words.Columns(line) <= columns {
		return []string{line}
	}
	hang := hangOf(line, columns)
	var rows []string
	row, empty := "", true
	for _, piece := range pieces {
		if !empty && words.Columns(row+piece) > columns {
			rows = append(rows, row)
			row, empty, piece = strings.Repeat(" ", hang), true, strings.TrimLeft(piece, " ")
		}
		row += piece
		empty = false
	}
	return append(rows, row)
}

// hangOf is the column below which the rows of a folded line start.
func hangOf(line string, columns int) int {
	hang := len(line) - len(strings.TrimLeft(line, " ")) + 2
	for _, found := range gap.FindAllStringSubmatchIndex(line, -1) {
		if at := words.Columns(line[:found[3]]); at <= columns-leastText {
			hang = at
		}
	}
	return hang
}

// pieces cuts a line before each space at which it may be broken: those that
// stand before no percent sign and are not inside what stays whole, given as the bytes from and before.
func pieces(line string, whole [][]int) []string {
	var all []string
	start := 0
	for i := 1; i < len(line); i++ {
		for len(whole) > 0 && whole[0][1] <= i {
			whole = whole[1:]
		}
		inside := len(whole) > 0 && whole[0][0] < i
		if line[i] == ' ' && line[i-1] != ' ' && !inside && !strings.HasPrefix(line[i:], " %") && strings.TrimLeft(line[:i], " ") != "" {
			all = append(all, line[start:i])
			start = i
		}
	}
	return append(all, line[start:])
}

// foldText folds each line of a text.
func foldText(text string, columns int) string {
	var rows []string
	for line := range strings.SplitSeq(text, "\n") {
		rows = append(rows, fold(line, columns)...)
	}
	return strings.Join(rows, "\n")
}
