package main

import (
	"fmt"
	"slices"
	"strings"

	"github.com/spf13/pflag"

	"pipstake/ids/registry"
	"pipstake/ids/words"
)

// offerWord is the command by which the scripts of shells ask what may come
// next on a command line: pipstake __offer -- WORD…, the last word being the one
// that is typed. It is no command for people, so no list has it. It answers a
// word a line, with a tab and some explanation behind, or with what the shell is
// to look for itself. It never fails: where it knows nothing it says nothing.
const offerWord = "__offer"

// offered is one word that may come next.
type offered struct{ word, about string }

// What the shell completes itself.
var (
	anyFile   = []offered{{word: ":files"}}
	anyFolder = []offered{{word: ":folders"}}
)

// offer is a command line that is being typed.
type offer struct {
	env   *env
	typed string             // the last word, as far as it goes
	flags *flags             // of the command; nil before it is known
	given map[string]string  // flags on the line, with their values
	args  []string           // on the line before the last word
	read  bool               // r was read, if it can be
	r     *registry.Registry // nil where there is none
}

// answerOffer says what may come next.
func (e *env) answerOffer(line []string) {
	if len(line) > 0 && line[0] == "--" {
		line = line[1:]
	}
	if len(line) == 0 {
		return
	}
	for i := range line {
		line[i] = unquoted(line[i], e.getenv("HOME"))
	}
	for _, o := range e.offers(line) {
		if o.about != "" {
			o.word += "\t" + strings.Join(strings.Fields(words.Clean(o.about)), " ")
		}
		fmt.Fprintln(e, o.word) // a failure is kept until Flush
	}
}

// offers are the words that may come last.
func (e *env) offers(line []string) []offered {
	o := &offer{env: e, typed: line[len(line)-1], given: map[string]string{}}
	if len(line) == 1 {
		return o.matching(commandOffers(o))
	}
	c, err := e.command(line[0])
	if err != nil {
		return nil
	}
	o.flags = newFlags(c)
	c.define(o.flags)
	waiting, over := o.before(line[1 : len(line)-1])
	name, value, both := strings.Cut(o.typed, "=")
	flag := o.flags.set.Lookup(strings.TrimPrefix(name, "--"))
	switch {
	case waiting != nil:
		return o.matching(o.values(waiting))
	case !over && both && strings.HasPrefix(name, "--") && flag != nil:
		o.typed = value
		return prefixed(o.matching(o.values(flag)), name+"=")
	case !over && strings.HasPrefix(o.typed, "-"):
		return o.matching(o.flagOffers())
	}
	if placeholder := o.placeholder(c); placeholder != "" {
		return o.matching(o.source(placeholder))
	}
	if over || o.typed != "" {
		return nil
	}
	return o.flagOffers()
}

// prefixed puts a flag before its values. What the shell finds itself stays.
func prefixed(all []offered, before string) []offered {
	for i, o := range all {
		if !strings.HasPrefix(o.word, ":") {
			all[i].word = before + o.word
		}
	}
	return all
}

// before goes through the words before the last one: flags with their values, and
// arguments. It returns the flag whose value comes next, and whether -- has ended
// the flags.
func (o *offer) before(line []string) (waiting *pflag.Flag, over bool) {
	for _, word := range line {
		name, value, both := strings.Cut(strings.TrimPrefix(word, "--"), "=")
		flag := o.flags.set.Lookup(name)
		switch {
		case waiting != nil:
			o.given[waiting.Name], waiting = word, nil
		case over || !strings.HasPrefix(word, "-") || word == "-":
			o.args = append(o.args, word)
		case word == "--":
			over = true
		case !strings.HasPrefix(word, "--") || flag == nil:
		case both || flag.Value.Type() == "bool":
			o.given[name] = value
		default:
			waiting = flag
		}
	}
	return waiting, over
}

// placeholder is the word of the usage line that the last argument stands for,
// bare of brackets and dots; "" where no more arguments may come.
func (o *offer) placeholder(c command) string {
	line := strings.Fields(c.arguments)
	for i, word := range line {
		if strings.HasSuffix(strings.TrimSuffix(word, "]"), "…") || i == len(o.args) {
			if _, photo := o.given["photo"]; photo {
				return "FILE" // of scan
			}
			return strings.Trim(word, "[]…")
		}
	}
	return ""
}

// flagOffers are the flags that do not stand on the line already.
func (o *offer) flagOffers() []offered {
	var all []offered
	o.flags.set.VisitAll(func(flag *pflag.Flag) {
		if _, there := o.given[flag.Name]; !there {
			_, usage := pflag.UnquoteUsage(flag)
			all = append(all, offered{"--" + flag.Name, usage})
		}
	})
	return all
}

// values are what a flag takes.
func (o *offer) values(flag *pflag.Flag) []offered {
	if w, ok := flag.Value.(*wordFlag); ok {
		return plainOffers(w.words)
	}
	placeholder, _ := pflag.UnquoteUsage(flag)
	placeholder, _, _ = strings.Cut(placeholder, ".") // FILE.png
	return o.source(placeholder)
}

// matching keeps what begins as the last word does, capitals and hyphens aside.
func (o *offer) matching(all []offered) []offered {
	return slices.DeleteFunc(all, func(a offered) bool {
		return !strings.HasPrefix(a.word, ":") && !strings.HasPrefix(loose(a.word), loose(o.typed))
	})
}

// loose is a word without capitals and, unless it is a flag, without hyphens.
func loose(word string) string {
	if strings.HasPrefix(word, "-") {
		return word
	}
	return strings.ReplaceAll(strings.ToLower(word), "-", "")
}

// unquoted takes the quotes of a shell off a word, which may end within them.
func unquoted(word, home string) string {
	if home != "" && strings.HasPrefix(word, "~/") {
		word = home + word[1:]
	}
	var b strings.Builder
	quote, escaped := rune(0), false
	for _, r := range word {
		switch {
		case escaped:
			b.WriteRune(r)
			escaped = false
		case r == '\\' && quote != '\'':
			escaped = true
		case quote == 0 && (r == '"' || r == '\''):
			quote = r
		case r == quote:
			quote = 0
		default:
			b.WriteRune(r)
		}
	}
	return b.String()
}
