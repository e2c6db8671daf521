package publish

import (
	"errors"
	"fmt"
	"path/filepath"
	"sync"
	"sync/atomic"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

func TestSecondRunIsRefused(t *testing.T) {
	dir := outDir(t)
	publishFirst(t, dir)
	s := begin(t, onDisk, dir)
	require.NoError(t, s.Add("new", []byte("new")))
	before := tree(t, filepath.Dir(dir))

	_, err := Publish(dir, second)
	r := refusal(t, err)
	assert.Equal(t, "output-busy", r.Code)
	assert.Equal(t, fmt.Sprintf("another run of trug is writing into %q", dir), r.Message)
	assert.Equal(t, "wait until the other has ended", r.Hint)
	assert.Equal(t, before, tree(t, filepath.Dir(dir)), "what the first run staged stays")
	publishFirst(t, filepath.Join(filepath.Dir(dir), "other"))

	_, err = s.Publish()
	require.NoError(t, err)
	_, err = Publish(dir, second)
	require.NoError(t, err)
	assert.Equal(t, []string{"other", "public"}, beside(t, dir))
}

func TestDropAndFailureFreeTheLock(t *testing.T) {
	dir := outDir(t)
	require.NoError(t, begin(t, onDisk, dir).Drop())
	s := begin(t, onDisk, dir)
	_, err := s.Publish()
	require.ErrorContains(t, err, "no files to publish")
	put(t, filepath.Join(dir, "mine"), "mine")
	for range 2 {
		_, err = Begin(dir)
		assert.Equal(t, "output-foreign", refusal(t, err).Code)
	}
	assert.Equal(t, []string{"public"}, beside(t, dir))
}

// The lock goes with the process that holds it, and the file that it leaves stops nobody.
func TestLockGoesWithItsProcess(t *testing.T) {
	dir := outDir(t)
	publishFirst(t, dir)
	before := tree(t, dir)
	other := startOther(t, "hold", dir)
	_, err := Begin(dir)
	require.Equal(t, "output-busy", refusal(t, err).Code)
	require.True(t, other.killAfter(t, 0))
	require.Len(t, beside(t, dir), 3, "a staging folder and a lock are left")

	report, err := Publish(dir, first)
	require.NoError(t, err)
	assert.Equal(t, Report{Unchanged: 3}, counts(report))
	assert.Equal(t, before, tree(t, dir))
	assert.Equal(t, []string{"public"}, beside(t, dir))
}

// A file of that name that is not trug's is not removed.
func TestLockLeavesOthersFilesAlone(t *testing.T) {
	dir := outDir(t)
	put(t, filepath.Join(filepath.Dir(dir), ".public.trug-lock"), "mine")
	publishFirst(t, dir)
	assert.Equal(t, "mine", tree(t, filepath.Dir(dir))[".public.trug-lock"])
}

// However many come at once, one at a time gets in: the sites that are published are whole, and the only other
// answer is that somebody is at work.
func TestManyRunsAtOnce(t *testing.T) {
	dir := outDir(t)
	var within, published atomic.Int32
	var wg sync.WaitGroup
	for w := range 8 {
		wg.Go(func() {
			for i := range 25 {
				s, err := Begin(dir)
				if err != nil {
					var r *Refusal
					assert.True(t, errors.As(err, &r) && r.Code == "output-busy", "%v", err)
					continue
				}
				assert.Equal(t, int32(1), within.Add(1))
				mine := fmt.Sprint(w, i)
				assert.NoError(t, errors.Join(s.Add("a", []byte(mine)), s.Add("b/"+mine, []byte(mine))))
				within.Add(-1)
				_, err = s.Publish()
				assert.NoError(t, err)
				published.Add(1)
			}
		})
	}
	wg.Wait()
	assert.Positive(t, published.Load())
	got := tree(t, dir)
	require.Len(t, got, 3)
	assert.Equal(t, got["a"], got["b/"+got["a"]])
	assert.Equal(t, []string{"public"}, beside(t, dir))
}

// Whoever opens the file just before its holder removes it holds nothing.
func TestLockIsHeldByOne(t *testing.T) {
	at, err := newPlace(outDir(t))
	require.NoError(t, err)
	var within, held atomic.Int32
	var wg sync.WaitGroup
	for range 8 {
		wg.Go(func() {
			for range 3000 {
				release, err := hold(at.lock)
				if err != nil {
					assert.ErrorIs(t, err, errHeld)
					continue
				}
				assert.Equal(t, int32(1), within.Add(1))
				held.Add(1)
				within.Add(-1)
				release()
			}
		})
	}
	wg.Wait()
	assert.Positive(t, held.Load())
	assert.True(t, missing(at.lock))
}
