package publish

import (
	"fmt"
	"maps"
	"math/rand/v2"
	"os"
	"path/filepath"
	"slices"
	"strings"
	"sync/atomic"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

// publishOver publishes with a spare.
func publishOver(d disk, p *Spare, dir string, files []File) (Report, error) {
	s, err := d.begin(dir, p)
	if err != nil {
		return Report{}, err
	}
	defer func() { _ = s.Drop() }()
	for _, f := range files {
		if err := s.Add(f.Path, f.Body); err != nil {
			return Report{}, err
		}
	}
	return s.Publish()
}

// countingWrites counts the files that are written and linked.
func countingWrites(d disk, writes, links *atomic.Int32) disk {
	out := d
	out.write = func(root *os.Root, f File) (int64, error) { writes.Add(1); return d.write(root, f) }
	out.link = func(from, to string) error { links.Add(1); return d.link(from, to) }
	return out
}

// With a spare one changed file costs its own writing, the manifest's, and linking what the publishing before it
// changed, however large the site is.
func TestSpareSparesLinking(t *testing.T) {
	dir, p := outDir(t), &Spare{}
	site := manyFiles(300, "old")
	_, err := publishOver(onDisk, p, dir, site)
	require.NoError(t, err)
	for round := range 4 {
		var writes, links atomic.Int32
		site[round].Body = fmt.Append(nil, "new ", round)
		report, err := publishOver(countingWrites(onDisk, &writes, &links), p, dir, site)
		require.NoError(t, err)
		assert.Equal(t, Report{Written: 1, Unchanged: 299}, counts(report))
		assert.Equal(t, 2, int(writes.Load()), "round %d", round)
		switch round {
		case 0:
			assert.Equal(t, 299, int(links.Load()), "there is no spare yet")
		default:
			assert.Equal(t, 1, int(links.Load()), "round %d", round)
		}
		assert.Equal(t, 0, whichSite(t, dir, site))
		assert.Len(t, beside(t, dir), 2)
	}
	require.NoError(t, p.Drop())
	require.NoError(t, p.Drop())
	assert.Equal(t, []string{"public"}, beside(t, dir))
}

// chanceSite takes some paths of a small pool, of which some cannot stand together, each with one of three texts.
func chanceSite(chance *rand.Rand) []File {
	pool := []string{"a", "a/b", "a/b/c.html", "a/index.html", "b/c", "b/c/d/e.html", "b/index.html", "index.html", "k/l/m.html", "k/l/n.html", "k/o.html"}
	out, taken := []File{{"always.html", []byte("x")}}, newPathSet()
	for _, i := range chance.Perm(len(pool)) {
		if chance.IntN(3) > 0 && taken.add(pool[i]) == nil {
			out = append(out, File{pool[i], []byte(strings.Repeat("text ", 1+chance.IntN(3)))})
		}
	}
	return out
}

// disturb does what others may do between two publishings; nothing of it may show in the next.
func disturb(t *testing.T, chance *rand.Rand, dir string, p *Spare) {
	t.Helper()
	files := slices.DeleteFunc(slices.Sorted(maps.Keys(tree(t, dir))), func(path string) bool { return path == ManifestName || strings.HasSuffix(path, "/") })
	some := filepath.Join(dir, filepath.FromSlash(files[chance.IntN(len(files))]))
	info, err := os.Stat(some)
	require.NoError(t, err)
	switch what := chance.IntN(8); {
	case info.IsDir():
	case what == 0: // in place: the spare site's file changes with it
		require.NoError(t, os.WriteFile(some, []byte("by hand"), 0o644))
	case what == 1:
		require.NoError(t, os.Remove(some))
	case what == 2:
		_, err := Publish(dir, chanceSite(chance))
		require.NoError(t, err)
	case p.dir == "" || missing(p.dir):
	case what == 3:
		require.NoError(t, os.RemoveAll(p.dir))
	case what == 4:
		require.NoError(t, os.RemoveAll(filepath.Join(p.dir, "always.html")))
	case what == 5:
		require.NoError(t, os.WriteFile(filepath.Join(p.dir, "always.html"), []byte("in the spare"), 0o644))
	}
}

// Sites by chance, one after another over a spare, each come out whole, whatever others did meanwhile; while one is
// staged the published one stays as it is.
func TestSpareByChance(t *testing.T) {
	const seed = 11
	chance := rand.New(rand.NewPCG(seed, seed))
	dir, p := outDir(t), &Spare{}
	for round := range 300 {
		site := chanceSite(chance)
		s, err := p.Begin(dir)
		require.NoError(t, err, "round %d", round)
		before := treeIfAny(t, dir)
		for _, f := range site {
			require.NoError(t, s.Add(f.Path, f.Body), "round %d", round)
		}
		require.Equal(t, before, treeIfAny(t, dir), "round %d: nothing shows yet", round)
		_, err = s.Publish()
		require.NoError(t, err, "round %d", round)
		require.Equal(t, 0, whichSite(t, dir, site), "round %d", round)
		require.LessOrEqual(t, len(beside(t, dir)), 2, "round %d", round)
		disturb(t, chance, dir, p)
	}
	require.NoError(t, p.Drop())
	assert.Equal(t, []string{"public"}, beside(t, dir))
}

func treeIfAny(t *testing.T, dir string) map[string]string {
	t.Helper()
	if missing(dir) {
		return nil
	}
	return tree(t, dir)
}

// A file of others in the spare site is left where it is, and the site is staged elsewhere.
func TestSpareWithAFileOfOthers(t *testing.T) {
	dir, p := outDir(t), &Spare{}
	for n := range 2 {
		_, err := publishOver(onDisk, p, dir, siteOf(n))
		require.NoError(t, err)
	}
	theirs := filepath.Join(p.dir, "theirs.txt")
	put(t, theirs, "mine")
	_, err := publishOver(onDisk, p, dir, siteOf(0))
	require.NoError(t, err)
	assert.Equal(t, 0, whichSite(t, dir, siteOf(0)))
	assert.FileExists(t, theirs)
}

// A failure while the spare site is made over leaves the published one as it was, and nothing beside it.
func TestSpareFailsWhole(t *testing.T) {
	dir, p := outDir(t), &Spare{}
	for n := range 2 {
		_, err := publishOver(onDisk, p, dir, siteOf(n))
		require.NoError(t, err)
	}
	d := onDisk
	d.link = func(_, _ string) error { return errFull }
	d.write = func(root *os.Root, f File) (int64, error) {
		if f.Path == ManifestName {
			return 0, errFull
		}
		return writeFile(root, f)
	}
	_, err := publishOver(d, p, dir, siteOf(0))
	require.ErrorIs(t, err, errFull)
	assert.Equal(t, 0, whichSite(t, dir, siteOf(1)))
	assert.Equal(t, []string{"public"}, beside(t, dir))
	_, err = publishOver(onDisk, p, dir, siteOf(0))
	require.NoError(t, err)
	assert.Equal(t, 0, whichSite(t, dir, siteOf(0)))
}

// TestKilledOverASpare kills a program that publishes four times over a spare, before each of its calls in turn. The
// folder holds one of its sites, and the next run leaves nothing beside it.
func TestKilledOverASpare(t *testing.T) {
	sites, met := [][]File{first, second, spareSite}, map[int]int{}
	for n := 1; ; n++ {
		dir := outDir(t)
		publishFirst(t, dir)
		if _, killed := startOther(t, "over", dir, fmt.Sprint(n)).end(t); !killed {
			require.Greater(t, n, 20)
			break
		}
		stood := whichSite(t, dir, sites...)
		met[stood]++
		require.NoError(t, begin(t, onDisk, dir).Drop())
		require.Equal(t, []string{"public"}, beside(t, dir), "call %d", n)
		require.Equal(t, stood, whichSite(t, dir, sites...), "call %d", n)
	}
	t.Log(met)
	assert.Len(t, met, len(sites))
}

var spareSite = files("index.html", "third", "pots", "a file", "notes/tubs/index.html", "tubs")

// publishOverMortal publishes four sites and is dead before its nth call that changes the disk.
func publishOverMortal(dir, arg string) error {
	var nth int
	if _, err := fmt.Sscan(arg, &nth); err != nil {
		return err
	}
	d, _ := mortalAt(onDisk, nth)
	ready()
	var p Spare
	for _, site := range [][]File{second, spareSite, second, first} {
		if _, err := publishOver(d, &p, dir, site); err != nil {
			return err
		}
	}
	return p.drop(d)
}
