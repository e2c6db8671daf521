package builder

import (
	"fmt"
	"os"
	"path/filepath"
	"strings"
	"testing"
	"time"

	"github.com/stretchr/testify/require"
)

// courtyard writes a handbook with so many pots, a diary for each of so many seasons with three lines a pot,
// and a plan for all of them.
func courtyard(tb testing.TB, dir string, pots, seasons int) {
	tb.Helper()
	crops := []string{"lettuce", "carrot", "bush-bean", "kale", "onion"} // a family returns every fifth year
	write := func(name, text string) {
		require.NoError(tb, os.MkdirAll(filepath.Dir(filepath.Join(dir, name)), 0o755))
		require.NoError(tb, os.WriteFile(filepath.Join(dir, name), []byte(text), 0o644))
	}
	write("pots.yaml", fmt.Sprintf("pot: {name: Pot, holds: 20 L, count: %d}\n", min(pots, 500)))
	write("handbook.yaml", "frost: {spring: \"04-20\", autumn: \"10-15\"}\n")
	write("renew.md", "# Renew\n\n```recipe renew\ntitle: Renew\nfor: 20 L\namounts:\n  alfalfa-meal: 1 cup\n  gypsum: 1 tbsp\n```\n")
	for year := range seasons {
		var b strings.Builder
		fmt.Fprintf(&b, "# Diary %d\n\n```diary\n", 2000+year)
		for pot := 1; pot <= pots; pot++ {
			crop := crops[(year+pot)%len(crops)]
			fmt.Fprintf(&b, "- {on: %d-04-10, pot: pot-%d, did: renewed, with: renew}\n", 2000+year, pot)
			fmt.Fprintf(&b, "- {on: %d-04-20, pot: pot-%d, did: planted, crop: %s, plants: 1}\n", 2000+year, pot, crop)
			fmt.Fprintf(&b, "- {on: %d-08-20, pot: pot-%d, did: harvested, crop: %s, yield: 400 g}\n", 2000+year, pot, crop)
		}
		write(fmt.Sprintf("diary-%d.md", 2000+year), b.String()+"```\n")
	}
	var plan strings.Builder
	fmt.Fprintf(&plan, "# Plan\n\n```plan next\nseason: %d\npots:\n", 2000+seasons)
	for pot := 1; pot <= pots; pot++ {
		fmt.Fprintf(&plan, "  pot-%d: {recipe: renew, crop: %s, plants: 1}\n", pot, crops[(seasons+pot)%len(crops)])
	}
	write("plan.md", plan.String()+"```\n")
}

// BenchmarkSeasons builds a courtyard of 500 pots with 20 seasons of diary, and one of a tenth of that in the
// same run. It reports how many times longer the large one takes than ten of the small: 1 is linear.
func BenchmarkSeasons(b *testing.B) {
	dir := b.TempDir()
	courtyard(b, filepath.Join(dir, "large"), 500, 20)
	courtyard(b, filepath.Join(dir, "small"), 50, 20)
	build := func(name string) time.Duration {
		start := time.Now()
		report, err := Build(Options{Content: filepath.Join(dir, name), Out: filepath.Join(dir, name+" site"), Today: today})
		require.NoError(b, err)
		require.Zero(b, report.Faults, printed(report.Diagnostics))
		return time.Since(start)
	}
	var small, large time.Duration
	for b.Loop() {
		small += build("small")
		large += build("large")
	}
	b.ReportMetric(float64(large)/float64(10*small), "of-linear")
}
