package publish

import (
	"bufio"
	"crypto/sha256"
	"encoding/hex"
	"fmt"
	"io"
	"math/rand/v2"
	"os"
	"os/exec"
	"runtime"
	"strconv"
	"strings"
	"sync/atomic"
	"testing"
	"time"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

// TestMain lets the test binary be the other process that a test starts and kills.
func TestMain(m *testing.M) {
	if task := os.Getenv("TRUG_TEST_TASK"); task != "" {
		if err := tasks[task](os.Getenv("TRUG_TEST_DIR"), os.Getenv("TRUG_TEST_ARG")); err != nil {
			fmt.Println(err)
			os.Exit(1)
		}
		os.Exit(0)
	}
	os.Exit(m.Run())
}

// tasks are what another process does, once it has said that it is ready.
var tasks = map[string]func(dir, arg string) error{
	"publish":  func(dir, arg string) error { return publishMortal(onDisk, dir, arg) },
	"renaming": func(dir, arg string) error { return publishMortal(noExchange(), dir, arg) },
	"over":     publishOverMortal,
	"hold": func(dir, _ string) error {
		s, err := Begin(dir)
		if err == nil {
			err = s.Add("staged", []byte("x"))
		}
		ready()
		_, _ = io.Copy(io.Discard, os.Stdin)
		return err
	},
}

func ready() { fmt.Println("ready") }

// publishAtOnce publishes as a build does, with files added by several goroutines.
func publishAtOnce(d disk, dir string, files []File) error {
	s, err := d.begin(dir, nil)
	if err != nil {
		return err
	}
	if err := each(files, func(f File) error { return s.Add(f.Path, f.Body) }); err != nil {
		return errAnd(err, s.Drop())
	}
	_, err = s.Publish()
	return err
}

// publishMortal publishes the site of a number and is dead before the nth call that changes the disk; arg holds both
// numbers. A run that lives says how many calls it made.
func publishMortal(d disk, dir, arg string) error {
	var site, nth int
	if _, err := fmt.Sscan(arg, &site, &nth); err != nil {
		return err
	}
	mortal, calls := mortalAt(d, nth)
	ready()
	if err := publishAtOnce(mortal, dir, siteOf(site)); err != nil {
		return err
	}
	fmt.Println(calls.Load())
	return nil
}

// mortalAt is a disk that kills the process before the nth call that changes it.
func mortalAt(d disk, nth int) (mortal disk, calls *atomic.Int32) {
	calls = &atomic.Int32{}
	step := func() {
		if int(calls.Add(1)) == nth {
			self, _ := os.FindProcess(os.Getpid())
			_ = self.Kill()
			select {}
		}
	}
	return disk{
		write:     func(root *os.Root, f File) (int64, error) { step(); return d.write(root, f) },
		link:      func(from, to string) error { step(); return d.link(from, to) },
		rename:    func(from, to string) error { step(); return d.rename(from, to) },
		exchange:  func(a, b string) error { step(); return d.exchange(a, b) },
		remove:    func(path string) error { step(); return d.remove(path) },
		removeAll: func(path string) error { step(); return d.removeAll(path) },
		clear:     func(root *os.Root, path string) error { step(); return d.clear(root, path) },
	}, calls
}

// another is a process that does a task.
type another struct {
	*exec.Cmd
	in  io.Closer
	out *bufio.Reader
}

// startOther starts a task and waits until it is ready.
func startOther(t *testing.T, task, dir string, arg ...string) another {
	t.Helper()
	self, err := os.Executable()
	require.NoError(t, err)
	cmd := exec.Command(self)
	cmd.Env = append(os.Environ(), "TRUG_TEST_TASK="+task, "TRUG_TEST_DIR="+dir, "TRUG_TEST_ARG="+strings.Join(arg, ""))
	in, err := cmd.StdinPipe()
	require.NoError(t, err)
	out, err := cmd.StdoutPipe()
	require.NoError(t, err)
	require.NoError(t, cmd.Start())
	a := another{cmd, in, bufio.NewReader(out)}
	line, err := a.out.ReadString('\n')
	require.NoError(t, err)
	require.Equal(t, "ready\n", line)
	return a
}

// end waits for the process and returns what it said, and whether it was killed. An error of its own fails the test.
func (a another) end(t *testing.T) (said string, killed bool) {
	t.Helper()
	text, err := io.ReadAll(a.out)
	require.NoError(t, err)
	said = strings.TrimSpace(string(text))
	var exit *exec.ExitError
	if err := a.Wait(); err != nil {
		require.ErrorAs(t, err, &exit)
		require.Regexp(t, `^\d*$`, said, "it may be killed when it has done its work")
		return "", true
	}
	return said, false
}

// siteOf is one of two sites that take turns, 0 and 1: 200 small files, of which the other has a third as they are, a
// third with other text, and a third not at all. 2 is the second site of other tests.
func siteOf(n int) []File {
	if n == 2 {
		return second
	}
	out := []File{{"index.html", fmt.Append(nil, "front ", n)}}
	for i := range 200 {
		path, text := fmt.Sprintf("notes/%d/%d/index.html", i%9, i), strings.Repeat(fmt.Sprintln(i), 300)
		switch i % 3 {
		case 1:
			text += fmt.Sprint(n)
		case 2:
			path = fmt.Sprintf("recipes/%d/%d.html", n, i)
		}
		out = append(out, File{path, []byte(text)})
	}
	return out
}

// whichSite returns the place, among sites, of the one that a folder holds whole, each file by its bytes and by
// its sum in the manifest. It fails the test if it is none of them.
func whichSite(t *testing.T, dir string, sites ...[]File) int {
	t.Helper()
	got := tree(t, dir)
	lines := strings.Split(strings.TrimSpace(got[ManifestName]), "\n")[1:]
	delete(got, ManifestName)
	require.Len(t, lines, len(got), "the manifest has as many lines as there are files")
	for _, line := range lines {
		listed, path, _ := strings.Cut(line, "  ")
		body, there := got[path]
		require.True(t, there, "%s is listed and not there", path)
		hash := sha256.Sum256([]byte(body))
		require.Equal(t, listed, hex.EncodeToString(hash[:]), path)
	}
	for i, site := range sites {
		if holdsSite(got, site) {
			return i
		}
	}
	require.Fail(t, "the folder holds no whole site")
	return -1
}

func holdsSite(got map[string]string, site []File) bool {
	for _, f := range site {
		if body, there := got[f.Path]; !there || body != string(f.Body) {
			return false
		}
	}
	return len(got) == len(site)
}

// kills is how often a test kills: TRUG_KILLS, or 30.
func kills(t *testing.T) int {
	t.Helper()
	n := 30
	if s := os.Getenv("TRUG_KILLS"); s != "" {
		var err error
		n, err = strconv.Atoi(s)
		require.NoError(t, err)
	}
	return n
}

// TestKilledAtAnyMoment kills runs that publish one site over another, at moments spread by chance: in turn over the
// time that a run takes and over the calls that it makes, for it spends most of its time before the swap. Each time
// the folder holds one whole site, and the next run leaves nothing beside it.
func TestKilledAtAnyMoment(t *testing.T) {
	const seed = 7
	chance := rand.New(rand.NewPCG(seed, seed))
	sites := [][]File{siteOf(0), siteOf(1)}
	dir := outDir(t)
	_, err := Publish(dir, sites[0])
	require.NoError(t, err)
	took, calls := wholeRun(t, dir, "1 0")
	require.Greater(t, calls, 400)

	stands, met := 1, map[string]int{}
	for i := range kills(t) {
		nth, wait := 0, time.Duration(chance.Float64()*float64(took))
		if i%2 == 1 {
			nth, wait = 1+chance.IntN(calls), time.Minute
		}
		other := startOther(t, "publish", dir, fmt.Sprint(1-stands, " ", nth))
		killed := other.killAfter(t, wait)
		now := whichSite(t, dir, sites...)
		met[phase(killed, now != stands, len(beside(t, dir)) > 2)]++
		stands = now

		report, err := Publish(dir, sites[stands])
		require.NoError(t, err)
		require.Equal(t, Report{Unchanged: len(sites[stands])}, counts(report), "kill %d, seed %d", i, seed)
		require.Equal(t, []string{"public"}, beside(t, dir), "kill %d, seed %d", i, seed)
		require.Equal(t, stands, whichSite(t, dir, sites...))
	}
	t.Logf("seed %d; a run takes %v and %d calls; %v", seed, took, calls, met)
	assert.Positive(t, met["killed before the swap"])
	assert.Positive(t, met["killed after the swap"])
}

// wholeRun lets a run come through and measures it.
func wholeRun(t *testing.T, dir, arg string) (took time.Duration, calls int) {
	t.Helper()
	other, began := startOther(t, "publish", dir, arg), time.Now()
	said, killed := other.end(t)
	require.False(t, killed)
	took = time.Since(began)
	calls, err := strconv.Atoi(said)
	require.NoError(t, err)
	return took, calls
}

// killAfter kills the process after a while, unless it ended or died before.
func (a another) killAfter(t *testing.T, wait time.Duration) (killed bool) {
	t.Helper()
	timer := time.AfterFunc(wait, func() { _ = a.Process.Kill() })
	defer timer.Stop()
	_, killed = a.end(t)
	return killed
}

// phase says where a kill came: one folder and a lock may lie beside the site before the swap and after it.
func phase(killed, swapped, leavings bool) string {
	switch {
	case !killed:
		return "ended"
	case swapped:
		return "killed after the swap"
	case leavings:
		return "killed before the swap"
	}
	return "killed before staging"
}

// TestKilledAtEachCall kills a run before its first call that changes the disk, a run before its second, and so on
// until one comes through: over an old site and where there was none, by exchange and by renaming.
func TestKilledAtEachCall(t *testing.T) {
	for _, task := range []string{"publish", "renaming"} {
		for _, had := range []bool{true, false} {
			t.Run(fmt.Sprint(task, ", old site: ", had), func(t *testing.T) {
				swapped := map[bool]int{}
				for n := 1; ; n++ {
					dir := outDir(t)
					if had {
						publishFirst(t, dir)
					}
					if _, killed := startOther(t, task, dir, fmt.Sprint(2, " ", n)).end(t); !killed {
						break
					}
					swapped[afterKill(t, dir, had, task == "publish")]++
				}
				t.Log(swapped)
				assert.GreaterOrEqual(t, swapped[false], 4, "two files, the manifest, the swap")
				if had {
					assert.GreaterOrEqual(t, swapped[true], 7, "three files, two folders, the manifest, the folder")
				}
			})
		}
	}
}

// TestKilledWhileClearingUp kills the run that clears up after one that was killed, at each of its calls: after one
// that died while staging, and after one that died while it removed the old site.
func TestKilledWhileClearingUp(t *testing.T) {
	for _, task := range []string{"publish", "renaming"} {
		for _, died := range []int{3, 9} {
			for n := 1; ; n++ {
				dir := outDir(t)
				publishFirst(t, dir)
				_, killed := startOther(t, task, dir, fmt.Sprint(2, " ", died)).end(t)
				require.True(t, killed)
				if _, killed := startOther(t, task, dir, fmt.Sprint(2, " ", n)).end(t); !killed {
					assert.Greater(t, n, 3)
					break
				}
				afterKill(t, dir, true, task == "publish")
			}
		}
	}
}

// afterKill holds that a killed run left the old site or the new one, reports which, and that the next run clears
// up, even one that publishes nothing.
func afterKill(t *testing.T, dir string, had, exchanged bool) (swapped bool) {
	t.Helper()
	if had && exchanged && runtime.GOOS == "linux" {
		whichSite(t, dir, first, second)
	}
	require.NoError(t, begin(t, onDisk, dir).Drop())
	if !had && missing(dir) {
		assert.Empty(t, beside(t, dir))
	} else {
		swapped = whichSite(t, dir, first, second) == 1
		assert.Equal(t, []string{"public"}, beside(t, dir))
	}
	_, err := Publish(dir, second)
	require.NoError(t, err)
	assert.Equal(t, 0, whichSite(t, dir, second))
	return swapped
}
