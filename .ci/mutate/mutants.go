package main

import (
	"bytes"
	"fmt"
	"go/ast"
	"go/token"
	"go/types"
	"path/filepath"
	"slices"
	"strconv"
	"strings"
)

// mutant is one break of one file.
type mutant struct {
	number   int // from 1, among those drawn
	file     string
	line     int
	code     string // the line of code as it stands, without its indent
	what     string // what is broken, like "< to <="
	from, to int    // the stretch of text that it stands for
	// write returns the stretch with the break behind its switch; inner is the
	// stretch with the breaks within it.
	write func(on, inner string) string
}

// title is the break's line in the report.
func (m *mutant) title(s *source) string {
	file, err := filepath.Rel(s.root, m.file)
	if err != nil {
		file = m.file
	}
	return fmt.Sprintf("%s:%d\t%s\t%s", filepath.ToSlash(file), m.line, m.code, m.what)
}

// render returns a file's text with breaks in it.
func (s *source) render(file string, breaks []*mutant) []byte {
	var of []*mutant
	for _, m := range breaks {
		if m.file == file {
			of = append(of, m)
		}
	}
	slices.SortStableFunc(of, func(a, b *mutant) int {
		if a.from != b.from {
			return a.from - b.from
		}
		return b.to - a.to // the wider one first
	})
	text := s.texts[file]
	var stretch func(from, to int) string
	stretch = func(from, to int) string {
		var b strings.Builder
		for len(of) > 0 && of[0].from < to {
			m := of[0]
			of = of[1:]
			b.Write(text[from:m.from])
			b.WriteString(m.write(fmt.Sprintf("mutated(%d)", m.number), stretch(m.from, m.to)))
			from = m.to
		}
		b.Write(text[from:to])
		return b.String()
	}
	return []byte(stretch(0, len(text)))
}

// swaps are the operators that stand in for one another.
var swaps = map[token.Token]token.Token{
	token.LSS: token.LEQ, token.LEQ: token.LSS, token.GTR: token.GEQ, token.GEQ: token.GTR,
	token.EQL: token.NEQ, token.NEQ: token.EQL,
	token.ADD: token.SUB, token.SUB: token.ADD, token.MUL: token.QUO, token.QUO: token.MUL, token.REM: token.MUL,
	token.LAND: token.LOR, token.LOR: token.LAND,
	token.AND: token.OR, token.OR: token.AND, token.XOR: token.OR, token.SHL: token.SHR, token.SHR: token.SHL,
	token.INC: token.DEC, token.DEC: token.INC,
	token.ADD_ASSIGN: token.SUB_ASSIGN, token.SUB_ASSIGN: token.ADD_ASSIGN,
	token.MUL_ASSIGN: token.QUO_ASSIGN, token.QUO_ASSIGN: token.MUL_ASSIGN,
}

// breaker collects the breaks of one file.
type breaker struct {
	*source
	file  string
	lines []string
	found []*mutant
}

// mutants returns every break that is known for the package. Constants that
// have a name stay as they are, since no switch can stand in them.
func (s *source) mutants() []*mutant {
	var all []*mutant
	for _, file := range s.names {
		b := &breaker{source: s, file: file, lines: strings.Split(string(s.texts[file]), "\n")}
		ast.Inspect(s.trees[file], b.visit)
		all = append(all, b.found...)
	}
	return all
}

// visit breaks one node in the ways known for its kind.
func (b *breaker) visit(node ast.Node) bool {
	switch n := node.(type) {
	case *ast.GenDecl:
		return n.Tok == token.VAR || n.Tok == token.TYPE
	case *ast.BinaryExpr:
		if other, ok := swaps[n.Op]; ok && b.info.Types[n].Value == nil {
			b.swap(n, n.OpPos, n.Op, other, true)
		}
	case *ast.ForStmt:
		if n.Init != nil {
			ast.Inspect(n.Init, b.visitExpr)
		}
		if n.Cond != nil {
			ast.Inspect(n.Cond, b.visit)
		}
		ast.Inspect(n.Body, b.visit)
		return false // what a loop does after each turn stays
	case *ast.IncDecStmt:
		b.swap(n, n.TokPos, n.Tok, swaps[n.Tok], false)
		b.drop(n)
	case *ast.AssignStmt:
		if other, ok := swaps[n.Tok]; ok {
			b.swap(n, n.TokPos, n.Tok, other, false)
		}
		if n.Tok != token.DEFINE {
			b.drop(n)
		}
	case *ast.ExprStmt:
		if call, ok := n.X.(*ast.CallExpr); ok && b.between(call.Fun.Pos(), call.Fun.End()) == "time.Sleep" {
			return false // tests measure no time
		}
		b.drop(n)
	case *ast.BranchStmt:
		if n.Tok == token.CONTINUE || n.Tok == token.BREAK {
			b.drop(n)
		}
	case *ast.IfStmt:
		text := b.between(n.Cond.Pos(), n.Cond.End())
		b.add(n.Cond, "negate "+oneLine(text), func(on, inner string) string { return on + " != (" + inner + ")" })
	case *ast.Ident:
		switch n.Name {
		case "true":
			b.add(n, "true to false", func(on, _ string) string { return "!" + on })
		case "false":
			b.add(n, "false to true", func(on, _ string) string { return on })
		}
	case *ast.BasicLit:
		b.literal(n)
	case *ast.ReturnStmt: // what is returned beside an error is of no use to anybody, nor is a number beside false
		last := len(n.Results) - 1
		if last > 0 && b.isError(n.Results[last]) {
			ast.Inspect(n.Results[last], b.visit)
			return false
		}
		if last > 0 && b.between(n.Results[last].Pos(), n.Results[last].End()) == "false" {
			for _, result := range n.Results {
				if _, number := result.(*ast.BasicLit); !number {
					ast.Inspect(result, b.visit)
				}
			}
			return false
		}
	case *ast.CallExpr:
		ast.Inspect(n.Fun, b.visit)
		for i, arg := range n.Args {
			if !b.unseen(n, i) {
				ast.Inspect(arg, b.visit)
			}
		}
		return false
	case *ast.Field:
		return n.Tag == nil
	}
	return true
}

// unseen reports whether nobody ever sees what a number given to a function is:
// the room that make sets aside in advance, since maps and append make more; the
// size of number that ParseFloat reads, since any but 32 is read as 64; midnight,
// where time.Date makes a day; how far below nought the digits of FormatFloat are,
// since all such numbers mean as few as will do; and the size of the sign of an
// infinity.
func (b *breaker) unseen(call *ast.CallExpr, arg int) bool {
	switch name := b.between(call.Fun.Pos(), call.Fun.End()); name {
	case "make":
		_, isMap := b.info.TypeOf(call.Args[0]).Underlying().(*types.Map)
		return arg == 2 || arg == 1 && isMap
	case "strconv.ParseFloat":
		return arg == 1
	case "time.Date":
		return arg >= 3 && arg <= 6 && b.between(call.Args[arg].Pos(), call.Args[arg].End()) == "0"
	case "strconv.FormatFloat":
		return arg == 2 && b.between(call.Args[2].Pos(), call.Args[2].End()) == "-1"
	case "math.Inf":
		return true
	case "math.IsInf":
		return arg == 1
	}
	return false
}

// isError reports whether an expression is an error that is there.
func (b *breaker) isError(expr ast.Expr) bool {
	of := b.info.Types[expr]
	return !of.IsNil() && types.Implements(of.Type, types.Universe.Lookup("error").Type().Underlying().(*types.Interface))
}

// visitExpr is visit for a statement that cannot be put into braces.
func (b *breaker) visitExpr(node ast.Node) bool {
	if _, stmt := node.(ast.Stmt); stmt {
		return true
	}
	return b.visit(node)
}

// swap writes another operator, in an expression or a statement.
func (b *breaker) swap(node ast.Node, pos token.Pos, op, other token.Token, expr bool) {
	broken := b.between(node.Pos(), pos) + other.String() + b.between(pos+token.Pos(len(op.String())), node.End())
	write := func(on, inner string) string { return "if " + on + " { " + broken + " } else { " + inner + " }" }
	if expr {
		write = b.either(node.(ast.Expr), broken)
	}
	b.add(node, op.String()+" to "+other.String(), write)
}

// either returns what writes one of two expressions.
func (b *breaker) either(expr ast.Expr, broken string) func(on, inner string) string {
	of := types.Default(b.info.TypeOf(expr))
	name := types.TypeString(of, func(p *types.Package) string {
		if p == b.types {
			return ""
		}
		return p.Name()
	})
	return func(on, inner string) string {
		return "func() " + name + " { if " + on + " { return " + broken + " }; return " + inner + " }()"
	}
}

// drop leaves a statement out.
func (b *breaker) drop(stmt ast.Stmt) {
	text := b.between(stmt.Pos(), stmt.End())
	b.add(stmt, "drop "+oneLine(text), func(on, inner string) string { return "if !" + on + " { " + inner + " }" })
}

// literal writes one more and one less in place of a number.
func (b *breaker) literal(lit *ast.BasicLit) {
	for _, step := range []int{1, -1} {
		var other string
		switch lit.Kind {
		case token.INT:
			value, err := strconv.ParseInt(lit.Value, 0, 64)
			if err != nil {
				return
			}
			other = strconv.FormatInt(value+int64(step), 10)
		case token.FLOAT:
			value, err := strconv.ParseFloat(lit.Value, 64)
			if err != nil {
				return
			}
			other = strconv.FormatFloat(value+float64(step), 'f', -1, 64)
		default:
			return
		}
		b.add(lit, lit.Value+" to "+other, b.either(lit, other))
	}
}

func (b *breaker) between(from, to token.Pos) string {
	return string(b.texts[b.file][b.files.Position(from).Offset:b.files.Position(to).Offset])
}

func (b *breaker) add(node ast.Node, what string, write func(on, inner string) string) {
	at, end := b.files.Position(node.Pos()), b.files.Position(node.End())
	line := at.Line
	if n, ok := node.(*ast.BinaryExpr); ok {
		line = b.files.Position(n.OpPos).Line
	}
	b.found = append(b.found, &mutant{file: b.file, line: line, code: strings.TrimSpace(b.lines[line-1]), what: what,
		from: at.Offset, to: end.Offset, write: write})
}

// oneLine returns the first words of a text that may be long.
func oneLine(text string) string {
	words := bytes.Join(bytes.Fields([]byte(text)), []byte(" "))
	if len(words) > 60 {
		return strings.ToValidUTF8(string(words[:60]), "") + "…"
	}
	return string(words)
}
