package main

import (
	"fmt"
	"strings"
	"time"

	"github.com/spf13/pflag"

	"pipstake/ids/words"
)

var manualCommand = command{
	name:    "manual",
	summary: "print the manual page",
	help: `Prints all that pipstake COMMAND --help tells as one manual page, in mdoc, for
man to show and to keep.

  pipstake manual | man -l -
  pipstake manual > /usr/local/share/man/man1/pipstake.1`,
	define: func(*flags) action {
		return func(e *env, _ []string) error {
			day, err := e.creation()
			if err != nil {
				return err
			}
			if built, ok := buildTime(); ok {
				day = built
			}
			e.Say("%s", strings.TrimSuffix(manual(e.commands, day), "\n"))
			return nil
		}
	},
}

// mdoc is a manual page in the mdoc language, which both mandoc and groff read.
type mdoc struct{ strings.Builder }

// macro writes a line with a macro and its arguments, which must be words or
// escaped.
func (p *mdoc) macro(words ...string) { p.WriteString("." + strings.Join(words, " ") + "\n") }

// literal writes lines that keep their form.
func (p *mdoc) literal(lines ...string) {
	p.macro("Bd", "-literal", "-offset", "indent")
	for _, line := range lines {
		p.WriteString(roff(line) + "\n")
	}
	p.macro("Ed")
}

// widest is how many columns a line of the page's source has at most, escapes
// counted.
const widest = 78

// prose writes a paragraph, each sentence on lines of its own.
func (p *mdoc) prose(text string) {
	line := ""
	for _, word := range strings.Fields(text) {
		if line != "" && (len(roff(line+" "+word)) > widest || endsSentence(line)) {
			p.WriteString(roff(line) + "\n")
			line = ""
		}
		line = strings.TrimSpace(line + " " + word)
	}
	if line != "" {
		p.WriteString(roff(line) + "\n")
	}
}

func endsSentence(line string) bool {
	bare := strings.TrimRight(line, `"')`)
	return strings.HasSuffix(bare, ".") || strings.HasSuffix(bare, "?") || strings.HasSuffix(bare, "!")
}

// text writes help text: paragraphs, and examples where lines are indented.
func (p *mdoc) text(help string) {
	for i, block := range strings.Split(help, "\n\n") {
		lines := strings.Split(block, "\n")
		if i > 0 && !strings.HasPrefix(block, " ") {
			p.macro("Pp")
		}
		if !strings.HasPrefix(block, " ") {
			p.prose(block)
			continue
		}
		for n := range lines {
			lines[n] = strings.TrimPrefix(lines[n], "  ")
		}
		p.literal(lines...)
	}
}

// roff escapes a line of text: what roff would read as an instruction, and all
// signs beyond ASCII. A hyphen is one that can be copied into a command.
func roff(line string) string {
	var b strings.Builder
	if strings.HasPrefix(line, ".") || strings.HasPrefix(line, "'") {
		b.WriteString(`\&`)
	}
	for _, r := range line {
		switch {
		case r == '\\':
			b.WriteString(`\e`)
		case r == '-':
			b.WriteString(`\-`)
		case r == '\'':
			b.WriteString(`\(aq`)
		case r == '`':
			b.WriteString(`\(ga`)
		case r == '~':
			b.WriteString(`\(ti`)
		case r == '^':
			b.WriteString(`\(ha`)
		case r > '~':
			b.WriteString(fmt.Sprintf(`\[u%04X]`, r))
		default:
			b.WriteRune(r)
		}
	}
	return b.String()
}

// flagList writes flags with what they are for.
func (p *mdoc) flagList(flags []*pflag.Flag) {
	if len(flags) == 0 {
		return
	}
	p.macro("Bl", "-tag", "-width", "Ds")
	for _, flag := range flags {
		value, usage := pflag.UnquoteUsage(flag)
		head := []string{"It", "Fl", roff("-" + flag.Name)}
		if flag.Value.Type() != "bool" {
			head = append(head, "Ar", roff(value))
		}
		p.macro(head...)
		p.prose(usage)
	}
	p.macro("El")
}

// section writes what one command is for, how it is used, and its own flags.
func (p *mdoc) section(c command) {
	f := newFlags(c)
	c.define(f)
	p.macro("Ss", roff(c.name))
	p.prose(words.Capital(c.summary) + ".")
	p.literal(c.usage())
	p.macro("Pp")
	p.text(c.help)
	p.flagList(f.own())
}

// manual is the manual page of all commands, as of a day.
func manual(commands []command, day time.Time) string {
	p := &mdoc{}
	p.macro("Dd", day.Format("January 2, 2006"))
	p.macro("Dt", "PIPSTAKE", "1")
	p.macro("Os")
	p.macro("Sh", "NAME")
	p.macro("Nm", "pipstake")
	p.macro("Nd", "labels and registry of an apple breeder\\(aqs crosses")
	p.macro("Sh", "SYNOPSIS")
	p.macro("Nm")
	p.macro("Ar", "COMMAND")
	p.macro("Op", "Ar", "argument", "...")
	p.macro("Op", "Ar", "flag", "...")
	p.macro("Sh", "DESCRIPTION")
	p.prose(purpose + ": " + chain + ".")
	p.prose(`Flags may stand before and behind the arguments. A list of identifiers may be
given as -, which reads them from standard input, one a line.`)
	p.macro("Pp")
	p.prose("Every command has these flags:")
	p.flagList(newFlags(command{}).all())
	p.macro("Sh", "PRINTING")
	p.prose("All commands that print labels have these flags:")
	p.flagList(printingFlags())
	p.macro("Sh", "COMMANDS")
	for _, c := range commands {
		p.section(c)
	}
	p.ending()
	return p.String()
}

// ending writes the sections behind the commands.
func (p *mdoc) ending() {
	for _, topic := range []string{"mistakes", "words", "phone"} {
		p.macro("Sh", strings.ToUpper(topic))
		p.text(helpTopics[topic]())
	}
	p.macro("Sh", "ENVIRONMENT")
	p.macro("Bl", "-tag", "-width", "Ds")
	for _, v := range [][2]string{
		{"PIPSTAKE_REGISTRY", "The folder of the registry, where --registry does not name another one. Without either, the nearest folder upward from the current one that holds a registry is taken."},
		{"SOURCE_DATE_EPOCH", "The time, in seconds since 1970, that PDF files say they were made at."},
		{"NO_COLOR", "Is obeyed at all times: there is no colour."},
	} {
		p.macro("It", "Ev", v[0])
		p.prose(v[1])
	}
	p.macro("El")
	p.macro("Sh", "EXIT", "STATUS")
	p.prose(strings.TrimPrefix(exitStatuses, "Exit status: "))
	p.macro("Sh", "EXAMPLES")
	p.prose("A season:")
	p.text(seasonExample)
}
