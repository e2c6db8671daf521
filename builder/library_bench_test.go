package builder

import (
	"fmt"
	"github.com/stretchr/testify/require"
	"path/filepath"
	"testing"
	"time"
)

func TestTryLibrary(t *testing.T) {
	dir := t.TempDir()
	for _, n := range []int{25, 100} {
		in := filepath.Join(dir, fmt.Sprint(n))
		library(t, in, n)
		start := time.Now()
		report, err := Build(Options{Content: in, Out: in + " site", Today: today})
		require.NoError(t, err)
		require.Zero(t, report.Faults, printed(report.Diagnostics))
		t.Log(n, time.Since(start), report.Files)
		if n == 100 {
			t.Log(printed(report.Diagnostics))
		}
	}
}
