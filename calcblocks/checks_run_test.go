package calcblocks_test

import (
	"os"
	"slices"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

// A solver computes the outputs of the checks of a topic whose inputs and outputs have given names. It
// never looks at a check's id.
type solver struct {
	topic         string
	given, expect string // names, in alphabetical order
	solve         func(question) answers
}

// An aside is worked beside the program: no page works it out, so its check holds the tables of units and what is
// printed, and proves nothing of a page. why tells what the pages do instead.
type aside struct {
	solver
	why string
}

// laterWork names outputs that the program does not compute yet, and why. A check that has other outputs
// too is computed for those.
type laterWork struct {
	topic, outputs string
	why            string
}

// doneTopics are computed whole, but for the later work; other topics are skipped check by check.
var doneTopics = []string{
	"units", "factors", "household-rounding", "density", "label-and-dose", "common-practice", "geometry", "containers",
	"depth-and-cover", "renewal", "statistics", "frost-and-degree-days", "file-formats", "liquid-feed", "rotation", "compost-blend", "mix-test", "leaching",
	"organic-release", "crop-uptake", "metals",
}

func allSolvers() []solver {
	var beside []solver
	for _, a := range asides {
		beside = append(beside, a.solver)
	}
	return slices.Concat(unitSolvers, factorSolvers, densitySolvers, labelSolvers, practiceSolvers, shapeSolvers, potSolvers, coverSolvers, trialSolvers, mixSolvers, seasonSolvers, stationSolvers(), formatSolvers, openTrialSolvers(), feedSolvers, rotationSolvers, heapSolvers, readingSolvers, compositionSolvers(), supplySolvers, uptakeSolvers, beside)
}

// TestPublishedChecks holds the program against worked figures of publications. A folder named by
// TRUG_CHECKS adds more of the same format.
func TestPublishedChecks(t *testing.T) {
	checks, problems := readChecks("../testdata/published-checks")
	require.Empty(t, problems)
	if folder := os.Getenv("TRUG_CHECKS"); folder != "" {
		more, problems := readChecks(folder)
		require.Empty(t, problems, folder)
		checks = merge(checks, more)
	}
	computed, beside := map[string]bool{}, 0
	for _, c := range checks {
		t.Run(c.id, func(t *testing.T) { computed[c.id] = run(t, c) })
		if s, ok := solverOf(c); ok {
			if _, ok := asideOf(s); ok {
				beside++
			}
		}
	}
	t.Logf("%d checks: %d computed, %d of them beside the program", len(checks), tally(computed), beside)
	t.Run("every check of a finished topic is computed", func(t *testing.T) { assertCovered(t, checks, computed) })
}

func tally(of map[string]bool) int {
	n := 0
	for _, is := range of {
		if is {
			n++
		}
	}
	return n
}

// run computes one check and reports whether it could. It fails with the publication that disagrees.
func run(t *testing.T, c check) bool {
	t.Logf("%s: %s (%s)", c.kind, c.source, c.confidence)
	s, ok := solverOf(c)
	if !ok {
		why := "no block of this kind is there"
		if l, known := laterOf(c.topic, names(c.expect)[0]); known {
			why = l.why
		}
		t.Skipf("topic %s does not compute %s yet: %s", c.topic, strings.Join(names(c.expect), ", "), why)
	}
	if a, beside := asideOf(s); beside {
		t.Logf("worked beside the program: %s", a.why)
	}
	steps, ranges := c.steps()
	require.Empty(t, c.uneven(steps), "lists that do not run in step")
	ends := []bool{false}
	if ranges {
		ends = append(ends, true)
	}
	disagrees := map[string]bool{} // with what is printed
	for i := range steps {
		for _, high := range ends {
			compare(t, c, s.solve(question{t, c, i, high}), i, high, disagrees)
		}
	}
	for _, name := range names(c.printed) {
		assert.True(t, disagrees[name], "%s: the program repeats the misprint of %q, %v", c.source, name, c.printed[name].values)
	}
	return true
}

// compare asserts the answers of one step.
func compare(t *testing.T, c check, got answers, i int, high bool, disagrees map[string]bool) {
	for _, name := range names(c.expect) {
		if l, later := laterOf(c.topic, name); later {
			t.Logf("%q is not computed yet: %s", name, l.why)
			continue
		}
		a, ok := got[name]
		if !assert.True(t, ok, "the solver gives no %q", name) {
			continue
		}
		assert.NoError(t, agree(a, c.expect[name], c.tolerance[name], i, high), "%q, step %d: %s, %s (%s); %s", name, i+1, c.id, c.source, c.confidence, c.note)
		if printed, ok := c.printed[name]; ok && agree(a, printed, c.tolerance[name], i, high) != nil {
			disagrees[name] = true
		}
	}
}

// solverOf returns the solver for the names of a check's inputs and of those outputs that are not later work.
func solverOf(c check) (solver, bool) {
	given, expect := strings.Join(names(c.given), " "), strings.Join(slices.DeleteFunc(names(c.expect), func(name string) bool {
		_, later := laterOf(c.topic, name)
		return later
	}), " ")
	for _, s := range allSolvers() {
		if s.topic == c.topic && s.given == given && s.expect == expect {
			return s, true
		}
	}
	return solver{}, false
}

func asideOf(s solver) (aside, bool) {
	i := slices.IndexFunc(asides, func(a aside) bool { return a.key() == s.key() })
	if i < 0 {
		return aside{}, false
	}
	return asides[i], true
}

func laterOf(topic, output string) (laterWork, bool) {
	for _, l := range later {
		if l.topic == topic && slices.Contains(strings.Fields(l.outputs), output) {
			return l, true
		}
	}
	return laterWork{}, false
}

func (s solver) key() string    { return s.topic + ": " + s.given + " > " + s.expect }
func (l laterWork) key() string { return l.topic + ": " + l.outputs }

// assertCovered asserts that nothing of a finished topic was left out but what the later work names, and
// that neither a solver nor an entry of the later work is stale.
func assertCovered(t *testing.T, checks []check, computed map[string]bool) {
	topics, used := map[string]bool{}, map[string]bool{}
	for _, c := range checks {
		topics[c.topic] = true
		if s, ok := solverOf(c); ok {
			used[s.key()] = true
		}
		left := 0
		for _, name := range names(c.expect) {
			if l, ok := laterOf(c.topic, name); ok {
				used[l.key()] = true
				left++
			}
		}
		if slices.Contains(doneTopics, c.topic) && left < len(c.expect) {
			assert.True(t, computed[c.id], "%s of the finished topic %s has no solver for %v to %v", c.id, c.topic, names(c.given), names(c.expect))
		}
	}
	for _, topic := range doneTopics {
		assert.True(t, topics[topic], "there are no checks of the topic %s", topic)
	}
	assertFresh(t, used)
}

// assertFresh asserts that some check asks every solver and names every entry of the later work, and that
// no two solvers answer the same.
func assertFresh(t *testing.T, used map[string]bool) {
	seen := map[string]bool{}
	for _, s := range allSolvers() {
		assert.True(t, used[s.key()], "no check asks the solver %s", s.key())
		assert.False(t, seen[s.key()], "two solvers for %s", s.key())
		seen[s.key()] = true
	}
	for _, l := range later {
		assert.True(t, used[l.key()], "no check has the later work %s", l.key())
		assert.NotEmpty(t, l.why, l.key())
	}
	for _, a := range asides {
		assert.NotEmpty(t, a.why, a.key())
	}
}
