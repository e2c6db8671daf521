package builder

import (
	"os"
	"path/filepath"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

// TestStopLeavesTheSite: a build that is told to end early leaves what was there and nothing beside it.
func TestStopLeavesTheSite(t *testing.T) {
	dir := t.TempDir()
	content, out := filepath.Join(dir, "content"), filepath.Join(dir, "sites", "public")
	library(t, content, 4)
	stop := make(chan struct{})
	close(stop)
	_, err := Build(Options{Content: content, Out: out, Today: today, Stop: stop})
	require.ErrorIs(t, err, ErrStopped)
	assert.NoDirExists(t, filepath.Dir(out))
	_, err = Build(Options{Content: content, Out: out, Today: today})
	require.NoError(t, err)
	_, err = Build(Options{Content: content, Out: out, Today: today.AddDate(0, 1, 0), Stop: stop})
	require.ErrorIs(t, err, ErrStopped)
	beside, err := os.ReadDir(filepath.Dir(out))
	require.NoError(t, err)
	assert.Len(t, beside, 1)
}

// closing is a lock that tells the build to stop as soon as the sites are swapped.
type closing struct{ stop chan struct{} }

func (c closing) Lock()   { close(c.stop) }
func (c closing) Unlock() {}

// TestStopComesTooLateInTheSwap: what has begun to take the place of the old site is ended.
func TestStopComesTooLateInTheSwap(t *testing.T) {
	dir := t.TempDir()
	content, out := filepath.Join(dir, "content"), filepath.Join(dir, "public")
	library(t, content, 4)
	stop := make(chan struct{})
	report, err := Build(Options{Content: content, Out: out, Today: today, Stop: stop, Swapping: closing{stop}})
	require.NoError(t, err)
	assert.Positive(t, report.Published.Written)
	assert.FileExists(t, filepath.Join(out, "index.html"))
}
