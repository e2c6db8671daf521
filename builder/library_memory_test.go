package builder

import (
	"fmt"
	"os"
	"os/exec"
	"path/filepath"
	"regexp"
	"strconv"
	"testing"

	"github.com/stretchr/testify/require"
)

// BenchmarkLibraryMemory reports the peak memory of a build in a process of its own, in kilobytes a note above that
// of a handbook of ten notes (VmHWM of Linux).
//
//	go test ./builder -run '^$' -bench LibraryMemory -benchtime 1x -timeout 1h
func BenchmarkLibraryMemory(b *testing.B) {
	if _, err := os.Stat("/proc/self/status"); err != nil {
		b.Skip("the system does not tell the peak of a process's memory")
	}
	base := peak(b, 10)
	for _, count := range []int{1000, 10000} {
		b.Run(fmt.Sprint(count), func(b *testing.B) {
			if testing.Short() && count > 1000 {
				b.Skip("10,000 notes take minutes and gigabytes")
			}
			for b.Loop() {
				b.ReportMetric(float64(peak(b, count)-base)/float64(count), "KB/note")
			}
			b.ReportMetric(float64(base), "base-KB")
		})
	}
}

// peak builds a handbook in a process of its own and returns the most kilobytes that it took.
func peak(tb testing.TB, count int) int {
	dir := tb.TempDir()
	library(tb, filepath.Join(dir, "content"), count)
	self, err := os.Executable()
	require.NoError(tb, err)
	cmd := exec.Command(self, "-test.run", "^TestBuildsForPeak$", "-test.v")
	cmd.Env = append(os.Environ(), "TRUG_PEAK_OF="+dir)
	out, err := cmd.CombinedOutput()
	require.NoError(tb, err, string(out))
	m := regexp.MustCompile(`VmHWM:\s+(\d+) kB`).FindSubmatch(out)
	require.NotNil(tb, m, string(out))
	kilobytes, err := strconv.Atoi(string(m[1]))
	require.NoError(tb, err)
	return kilobytes
}

// TestBuildsForPeak is the process that peak starts.
func TestBuildsForPeak(t *testing.T) {
	dir := os.Getenv("TRUG_PEAK_OF")
	if dir == "" {
		t.Skip("a process of BenchmarkLibraryMemory")
	}
	report, err := Build(Options{Content: filepath.Join(dir, "content"), Out: filepath.Join(dir, "public"), Today: today})
	require.NoError(t, err)
	require.Zero(t, report.Faults)
	status, err := os.ReadFile("/proc/self/status")
	require.NoError(t, err)
	fmt.Println(string(status))
}
