package main

import (
	"fmt"
	"maps"
	"math/rand/v2"
	"os"
	"os/exec"
	"path/filepath"
	"strconv"
	"testing"
	"time"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"trug/builder/publish"
)

// TestKilledBuild kills builds of a handbook over its site, 30 times or TRUG_KILLS times, at moments spread by chance
// over a build, and every other one over the time since files were staged. The site is always a whole one, of
// before or of after, and the next build leaves nothing beside it.
func TestKilledBuild(t *testing.T) {
	const seed = 11
	chance := rand.New(rand.NewPCG(seed, seed))
	t.Setenv("XDG_CACHE_HOME", t.TempDir())
	content := start(t, "us")
	title := func(i int) {
		text := fmt.Sprintf("title: Bench %d\nsizes: [5 gal, door-tub]\n", i)
		require.NoError(t, os.WriteFile(filepath.Join(content, "handbook.yaml"), []byte(text), 0o644))
	}
	build := []string{"build", "--in", content, "--out", "site/public"}
	var whole [2]map[string]string
	var took time.Duration
	for i := range whole {
		title(i)
		began := time.Now()
		code, said := trug(t, build...)
		took = time.Since(began)
		require.Zero(t, code, said)
		whole[i] = sums(t, "site/public")
	}
	require.NotEqual(t, whole[0]["index.html"], whole[1]["index.html"])

	stands, met := 1, map[string]int{}
	for i := range kills(t) {
		title(1 - stands)
		cmd := exec.Command("trug", build...)
		require.NoError(t, cmd.Start())
		if i%2 == 1 {
			awaitStaging(filepath.Join("site", ".public.trug-stage-"), took)
			time.Sleep(time.Duration(chance.Float64() * float64(took) / 4))
		} else {
			time.Sleep(time.Duration(chance.Float64() * float64(took)))
		}
		_ = cmd.Process.Kill() // it may have ended
		killed := cmd.Wait() != nil

		now := sums(t, "site/public")
		swapped := maps.Equal(now, whole[1-stands])
		if swapped {
			stands = 1 - stands
		}
		require.Equal(t, whole[stands], now, "kill %d, seed %d", i, seed)
		met[fmt.Sprintf("killed %t, swapped %t, leavings %d", killed, swapped, len(beside(t)))]++

		title(stands)
		code, said := trug(t, build...)
		require.Zero(t, code, said)
		require.Equal(t, whole[stands], sums(t, "site/public"), "kill %d, seed %d", i, seed)
		require.Empty(t, beside(t), "kill %d, seed %d", i, seed)
	}
	t.Logf("seed %d, a build takes %v: %v", seed, took, met)
	assert.Greater(t, len(met), 1, "all kills came in one phase")
}

// kills is how often a test kills: TRUG_KILLS, or 30.
func kills(t *testing.T) int {
	t.Helper()
	n, err := strconv.Atoi(os.Getenv("TRUG_KILLS"))
	if err != nil {
		return 30
	}
	return n
}

// awaitStaging waits until a folder whose name starts so is there, for as long as a build may take.
func awaitStaging(prefix string, most time.Duration) {
	for deadline := time.Now().Add(2 * most); time.Now().Before(deadline); time.Sleep(time.Millisecond) {
		if found, _ := filepath.Glob(prefix + "*"); len(found) > 0 {
			return
		}
	}
}

// beside lists what lies beside the site in the folder "site".
func beside(t *testing.T) []string {
	t.Helper()
	entries, err := os.ReadDir("site")
	require.NoError(t, err)
	var names []string
	for _, e := range entries {
		if e.Name() != "public" {
			names = append(names, e.Name())
		}
	}
	return names
}

// TestSecondBuildIsRefused: while one run writes into the site's folder, a second says so and stops.
func TestSecondBuildIsRefused(t *testing.T) {
	content := start(t, "us")
	build := []string{"build", "--in", content, "--out", "site/public"}
	code, said := trug(t, build...)
	require.Zero(t, code, said)
	before := sums(t, "site/public")
	first, err := publish.Begin("site/public")
	require.NoError(t, err)
	code, said = trug(t, build...)
	assert.Equal(t, exitUsage, code)
	assert.Equal(t, "site/public: another run of trug is writing into \"site/public\"\n  hint: wait until the other has ended\n", said)
	assert.Equal(t, before, sums(t, "site/public"))
	require.NoError(t, first.Drop())
	code, said = trug(t, build...)
	require.Zero(t, code, said)
	assert.Empty(t, beside(t))
}
