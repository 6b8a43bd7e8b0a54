// Mutate breaks the code on purpose, one place at a time, and tells which
// breaks no test of the package notices:
//
//	go run ./.ci/mutate [-n 60] [-seed 1] [-grep TEXT] [-short] PACKAGE...
//
// It changes comparisons, arithmetic, conditions, numbers and statements,
// draws as many breaks as asked for, and builds the package's tests once with
// all of them in it, behind a switch that the environment sets; the files stay
// as they are. Each break is then tried with -short on the tests that reach it,
// and where they pass, on all tests of the package; on these not with -short, for
// a first look that is ten times as fast.
// A break that does not compile is not counted. Breaks that change nothing
// anybody can see stand in equivalent.txt, with the reason, and are left out of
// the share.
package main

import (
	_ "embed"
	"flag"
	"fmt"
	"log"
	"math/rand/v2"
	"os"
	"path/filepath"
	"slices"
	"strings"
)

//go:embed equivalent.txt
var equivalentText string

// outcome is what the tests made of a break.
type outcome string

const (
	killed     outcome = "killed"      // a test failed
	timedOut   outcome = "killed late" // the tests did not end
	survived   outcome = "SURVIVED"    // every test passed
	unreached  outcome = "UNREACHED"   // no test runs the place
	equivalent outcome = "equivalent"  // equivalent.txt says why none can
)

func main() {
	log.SetFlags(0)
	count := flag.Int("n", 60, "breaks to try in each package, drawn by chance")
	seed := flag.Uint64("seed", 1, "of the draw: the same seed draws the same breaks of the same code")
	grep := flag.String("grep", "", "only breaks whose line of the report holds this text")
	short := flag.Bool("short", false, "leave out the tests that are left out with go test -short")
	flag.Parse()
	if flag.NArg() == 0 {
		log.Fatal("no package named, like ./ids")
	}
	reasons := readEquivalent(equivalentText)
	all := map[outcome]int{}
	for _, name := range flag.Args() {
		tally, err := runPackage(name, *count, *seed, *grep, *short, reasons)
		if err != nil {
			log.Fatalf("%s: %v", name, err)
		}
		fmt.Println(summary(name, tally))
		for o, n := range tally {
			all[o] += n
		}
	}
	fmt.Println(summary("all", all))
}

// summary returns a line with the share of breaks killed, out of those tried
// that are not equivalent.
func summary(name string, tally map[outcome]int) string {
	caught := tally[killed] + tally[timedOut]
	tried := caught + tally[survived] + tally[unreached]
	share := 100.0
	if tried > 0 {
		share = 100 * float64(caught) / float64(tried)
	}
	return fmt.Sprintf("%s: %d of %d killed (%.1f %%), %d equivalent", name, caught, tried, share, tally[equivalent])
}

// readEquivalent returns the reasons of equivalent.txt by the break they are
// about. A line holds the file, the line of code, the break and the reason,
// with tabs between them.
func readEquivalent(text string) map[string]string {
	reasons := map[string]string{}
	for line := range strings.Lines(text) {
		fields := strings.Split(strings.TrimSpace(line), "\t")
		if len(fields) == 4 {
			reasons[strings.Join(fields[:3], "\t")] = fields[3]
		}
	}
	return reasons
}

// runPackage tries count breaks of a package and returns how many came to
// which end.
func runPackage(name string, count int, seed uint64, grep string, short bool, reasons map[string]string) (map[outcome]int, error) {
	pkg, err := load(name)
	if err != nil {
		return nil, err
	}
	all := slices.DeleteFunc(shuffled(pkg.mutants(), seed), func(m *mutant) bool { return !strings.Contains(m.title(pkg), grep) })
	var chosen []*mutant
	for len(chosen) < count && len(all) > 0 {
		next := min(count-len(chosen), len(all))
		chosen = append(chosen, pkg.compiling(all[:next])...)
		all = all[next:]
	}
	for i, m := range chosen {
		m.number = i + 1
	}
	work, err := os.MkdirTemp("", "mutate")
	if err != nil {
		return nil, err
	}
	defer os.RemoveAll(work)
	r := runner{pkg: pkg, short: short, killers: map[string]map[string]int{}, work: work, program: filepath.Join(work, "test")}
	if err := r.build(chosen); err != nil {
		return nil, err
	}
	if err := r.measure(); err != nil {
		return nil, err
	}
	tally := map[outcome]int{}
	for _, m := range chosen {
		title := m.title(pkg)
		_, key, _ := strings.Cut(title, "\t")
		file, _, _ := strings.Cut(title, ":")
		reason, end := reasons[file+"\t"+key], equivalent
		if reason == "" {
			if end, err = r.try(m); err != nil {
				return nil, err
			}
		}
		tally[end]++
		fmt.Printf("%s\t%s\n", end, strings.TrimSpace(title+"\t"+reason))
	}
	return tally, nil
}

// shuffled returns the breaks in the order in which they are drawn.
func shuffled(all []*mutant, seed uint64) []*mutant {
	draw := rand.New(rand.NewPCG(seed, 0))
	draw.Shuffle(len(all), func(i, j int) { all[i], all[j] = all[j], all[i] })
	return all
}
