package main

import (
	"cmp"
	"errors"
	"fmt"
	"io/fs"
	"os"
	"path/filepath"
	"runtime"
	"slices"
	"strings"

	"pipstake/ids"
	"pipstake/ids/plainfile"
	"pipstake/ids/problem"
	"pipstake/ids/words"
	"pipstake/label/symbol"
	"pipstake/label/symbol/photo"
)

// photograph is a picture and what was found on it.
type photograph struct {
	name   string
	codes  []photo.Code     // all that were read
	read   []symbol.Payload // codes of labels
	other  []string         // the texts of other codes
	unread []photo.Code
	part   *photo.PartError // where only a part of it is there
	err    error            // why nothing was looked for; what follows goes on
}

// filesOf lists the files that arguments name; a folder stands for the files in
// it. One that is not there is refused before any is looked at.
func (e *env) filesOf(args []string) ([]string, error) {
	var files []string
	for _, arg := range e.expanded(args) {
		info, err := os.Stat(e.abs(arg))
		if err != nil {
			return nil, problem.Use(fmt.Sprintf("file %s: %s", quotedPath(arg), problem.Reason(err)), "name files or folders that are there")
		}
		if !info.IsDir() {
			files = append(files, arg)
			continue
		}
		entries, err := os.ReadDir(e.abs(arg))
		if err != nil {
			return nil, problem.Failure(fmt.Sprintf("folder %s: %s", quotedPath(arg), problem.Reason(err)), "")
		}
		before := len(files)
		for _, entry := range entries {
			if !entry.IsDir() && !strings.HasPrefix(entry.Name(), ".") {
				files = append(files, filepath.Join(arg, entry.Name()))
			}
		}
		if len(files) == before {
			return nil, problem.Use(fmt.Sprintf("there is no file in the folder %s", quotedPath(arg)), "name the folder that holds them")
		}
	}
	if len(files) == 0 {
		return nil, problem.Use("no file is named", "name photographs, or a folder of them")
	}
	return files, nil
}

// expanded puts the files in place of patterns such as *.jpg, which the shells
// of Windows leave to the program. A file of that very name comes first.
func (e *env) expanded(args []string) []string {
	var files []string
	for _, arg := range args {
		names, err := filepath.Glob(e.abs(arg))
		if _, missing := os.Lstat(e.abs(arg)); missing == nil || err != nil || len(names) == 0 {
			files = append(files, arg)
			continue
		}
		for _, name := range names {
			if rel, err := filepath.Rel(e.cwd, name); err == nil && !filepath.IsAbs(arg) {
				name = rel
			}
			files = append(files, name)
		}
	}
	return files
}

// readFile reads a file that a photograph may be in.
func (e *env) readFile(name string) ([]byte, error) {
	data, err := plainfile.Read(e.abs(name), photo.MostBytes)
	var path *fs.PathError
	if errors.As(err, &path) {
		return nil, path.Err
	}
	return data, err
}

// inParallel makes n results with all processors, no more at a time than there
// are of these, and hands them on in their order.
func inParallel[T any](n int, work func(i int) T, use func(i int, result T) error) error {
	results := make([]chan T, n)
	for i := range results {
		results[i] = make(chan T, 1)
	}
	workers := runtime.GOMAXPROCS(0)
	begin := make(chan struct{}, workers)
	stop := make(chan struct{})
	defer close(stop)
	go func() {
		for i := range n {
			select {
			case begin <- struct{}{}:
			case <-stop:
				return
			}
			go func() {
				results[i] <- work(i)
				<-begin
			}()
		}
	}()
	for i := range n {
		if err := use(i, <-results[i]); err != nil {
			return err
		}
	}
	return nil
}

// lookAt finds the codes on a photograph.
func lookAt(name string, data []byte) photograph {
	p := photograph{name: name}
	found, err := readPhoto(data)
	if err != nil {
		p.err = err
		return p
	}
	p.codes, p.unread, p.part = found.read, found.unread, found.part
	for _, c := range found.read {
		payload, _, err := symbol.ParseScan(c.Text)
		if err != nil {
			p.other = append(p.other, c.Text)
			continue
		}
		p.read = append(p.read, payload)
	}
	return p
}

// summary is a photograph on one line.
func (p photograph) summary() string {
	if p.err != nil {
		return p.name + ": " + p.err.Error()
	}
	text := fmt.Sprintf("%s: %s read", p.name, words.Plural(len(p.read), "code", "codes"))
	if n := len(p.unread); n > 0 {
		text += fmt.Sprintf(", %d seen and not read", n)
	}
	if n := len(p.other); n > 0 {
		text += ", " + words.Plural(n, "code", "codes") + " of other things"
	}
	if p.part != nil {
		text += "; " + p.part.Error()
	}
	return text
}

// photographs answers all codes on photographs.
func (s *scanner) photographs(files []string) error {
	work := func(i int) photograph {
		data, err := s.env.readFile(files[i])
		if err != nil {
			return photograph{name: files[i], err: err}
		}
		return lookAt(files[i], data)
	}
	working := s.env.Working("looking at photographs", len(files))
	defer working.End()
	err := inParallel(len(files), work, func(i int, p photograph) error {
		working.Step()
		s.bad = s.bad || p.err != nil || p.part != nil || len(p.unread) > 0
		if s.asJSON {
			return s.photographJSON(p)
		}
		if i > 0 {
			s.env.Say("")
		}
		return s.photographText(p)
	})
	if err != nil {
		return err
	}
	return s.outcome()
}

func (s *scanner) photographText(p photograph) error {
	s.env.Say("%s", p.summary())
	for _, c := range p.unread {
		s.env.Say("  not read: %s; take another picture of it, nearer and without blur", placeOf(c))
	}
	for _, a := range s.answersTo(p) {
		s.env.Say("")
		if err := s.tellAnswer(a); err != nil {
			return err
		}
	}
	return s.env.Flush()
}

// placeOf says where on a photograph a code is.
func placeOf(c photo.Code) string {
	at := c.Centre()
	return fmt.Sprintf("a code %.0f pixels from the left and %.0f from the top", at.X, at.Y)
}

// answersTo answers the codes on a photograph: one answer for each identifier,
// with what is wrong with any of its labels.
func (s *scanner) answersTo(p photograph) []*answer {
	var answers []*answer
	var order []ids.ID
	codes := map[ids.ID][]symbol.Payload{}
	for _, c := range p.read {
		if codes[c.ID] == nil {
			order = append(order, c.ID)
		}
		if !slices.Contains(codes[c.ID], c) {
			codes[c.ID] = append(codes[c.ID], c)
		}
	}
	for _, id := range order {
		all := codes[id]
		slices.SortStableFunc(all, func(a, b symbol.Payload) int { return cmp.Compare(len(b.Text), len(a.Text)) })
		first := answerTo(s.r, all[0], s.today)
		for _, c := range all[1:] {
			for _, p := range answerTo(s.r, c, s.today).problems {
				if !slices.Contains(first.problems, p) {
					first.problems = append(first.problems, p)
				}
			}
		}
		answers = append(answers, first)
	}
	return answers
}
