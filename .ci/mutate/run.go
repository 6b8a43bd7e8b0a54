package main

import (
	"cmp"
	"context"
	"encoding/json"
	"errors"
	"fmt"
	"os"
	"os/exec"
	"path/filepath"
	"regexp"
	"slices"
	"strconv"
	"strings"
	"time"
)

// runner tries the breaks of one package.
type runner struct {
	pkg           *source
	short         bool // no test is tried without -short
	work, program string
	tests         []test                    // the fastest first
	killers       map[string]map[string]int // how many breaks of a file each test has killed
}

// test is a test function of the unbroken package.
type test struct {
	name    string
	took    time.Duration
	reaches map[int]bool // numbers of breaks
}

// build compiles the tests with all breaks in the package.
func (r *runner) build(breaks []*mutant) error {
	replace := map[string]string{}
	put := func(file string, text []byte) error {
		changed := filepath.Join(r.work, strconv.Itoa(len(replace))+".go")
		replace[file] = changed
		return os.WriteFile(changed, text, 0o666)
	}
	for _, file := range r.pkg.names {
		if err := put(file, r.pkg.render(file, breaks)); err != nil {
			return err
		}
	}
	if err := put(filepath.Join(r.pkg.dir, helpFile), []byte(helpText(r.pkg.types.Name()))); err != nil {
		return err
	}
	mapping, err := json.Marshal(map[string]any{"Replace": replace})
	if err != nil {
		return err
	}
	overlay := filepath.Join(r.work, "overlay.json")
	if err := os.WriteFile(overlay, mapping, 0o666); err != nil {
		return err
	}
	out, err := exec.Command("go", "test", "-c", "-vet=off", "-overlay", overlay, "-o", r.program, r.pkg.path).CombinedOutput()
	if err != nil {
		return fmt.Errorf("building the tests: %w\n%s", err, out)
	}
	return nil
}

// failure is how the program says which test failed; one that ends the whole
// program has no such line.
var failure = regexp.MustCompile(`(?m)^--- FAIL: (\w+)`)

// run runs some tests with a break, 0 for none, and reports whether they pass,
// and which does not, if that is known.
func (r *runner) run(pattern string, short bool, number int, reach string, limit time.Duration) (passed bool, failed string, err error) {
	ctx, cancel := context.WithTimeout(context.Background(), limit)
	defer cancel()
	cmd := exec.CommandContext(ctx, r.program, "-test.short="+strconv.FormatBool(short), "-test.failfast", "-test.run", pattern)
	cmd.Dir, cmd.WaitDelay = r.pkg.dir, time.Second
	cmd.Env = append(os.Environ(), "MUTATE="+strconv.Itoa(number), "MUTATE_REACH="+reach)
	out, err := cmd.Output()
	if ctx.Err() != nil {
		return false, "", ctx.Err()
	}
	if err == nil || errors.As(err, new(*exec.ExitError)) {
		if m := failure.FindSubmatch(out); m != nil {
			failed = string(m[1])
		}
		return err == nil, failed, nil
	}
	return false, "", err
}

// measure runs each test of the unbroken package by itself: how long it takes,
// and which places it reaches.
func (r *runner) measure() error {
	cmd := exec.Command(r.program, "-test.list", ".")
	cmd.Dir = r.pkg.dir
	out, err := cmd.Output()
	if err != nil {
		return err
	}
	for name := range strings.FieldsSeq(string(out)) {
		if strings.HasPrefix(name, "Benchmark") {
			continue
		}
		reach := filepath.Join(r.work, "reach")
		if err := os.WriteFile(reach, nil, 0o666); err != nil {
			return err
		}
		start := time.Now()
		passed, _, err := r.run("^"+name+"$", true, 0, reach, 10*time.Minute)
		if err != nil {
			return err
		}
		if !passed {
			fmt.Printf("left out: %s fails without a break\n", name)
			continue
		}
		text, err := os.ReadFile(reach)
		if err != nil {
			return err
		}
		t := test{name, time.Since(start), map[int]bool{}}
		for number := range strings.FieldsSeq(string(text)) {
			if n, err := strconv.Atoi(number); err == nil {
				t.reaches[n] = true
			}
		}
		r.tests = append(r.tests, t)
	}
	slices.SortFunc(r.tests, func(a, b test) int { return int(a.took - b.took) })
	return nil
}

// together is how long tests may take that are run in one go: starting the
// program takes longer than most of them.
const together = 300 * time.Millisecond

// try runs the tests that reach a break with -short, the most likely to fail
// first, and all tests without it where those pass.
func (r *runner) try(m *mutant) (outcome, error) {
	tests := r.reaching(m)
	for left := tests; len(left) > 0; {
		names, took := []string{left[0].name}, left[0].took
		for left = left[1:]; len(left) > 0 && took+left[0].took < together; left = left[1:] {
			names, took = append(names, left[0].name), took+left[0].took
		}
		passed, failed, err := r.run("^("+strings.Join(names, "|")+")$", true, m.number, "", 20*time.Second+10*took)
		switch {
		case errors.Is(err, context.DeadlineExceeded):
			return timedOut, nil
		case err != nil:
			return "", err
		case !passed:
			r.killers[m.file][failed]++
			return killed, nil
		}
	}
	end := unreached
	if len(tests) > 0 {
		end = survived
	}
	if r.short {
		return end, nil
	}
	passed, _, err := r.run(".", false, m.number, "", 10*time.Minute)
	switch {
	case errors.Is(err, context.DeadlineExceeded):
		return timedOut, nil
	case err == nil && !passed:
		return killed, nil
	}
	return end, err
}

// reaching returns the tests that reach a break: first those that were killing
// breaks of its file, by how many they killed in their time, then the fastest.
func (r *runner) reaching(m *mutant) []test {
	tests := slices.DeleteFunc(slices.Clone(r.tests), func(t test) bool { return !t.reaches[m.number] })
	if r.killers[m.file] == nil {
		r.killers[m.file] = map[string]int{}
	}
	rate := func(t test) float64 { return float64(r.killers[m.file][t.name]) / (0.02 + t.took.Seconds()) }
	slices.SortStableFunc(tests, func(a, b test) int { return cmp.Compare(rate(b), rate(a)) })
	return tests
}
