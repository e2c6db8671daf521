package pictures

import (
	"bytes"
	"fmt"
	"image"
	"image/jpeg"
	"os"
	"os/exec"
	"path/filepath"
	"runtime/debug"
	"strings"
	"sync"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

// TestRoom: so many who come at once are inside one after the other, never more than there is room for, and one
// that is larger than the room has it alone.
func TestRoom(t *testing.T) {
	r := newRoom(24)
	var mutex sync.Mutex
	inside, most, small, alone := 0, 0, 0, true
	step := func(pixels int) func() {
		return func() {
			mutex.Lock()
			inside += pixels
			most = max(most, inside)
			if pixels > 24*million {
				alone = alone && inside == pixels
			} else {
				small = max(small, inside)
			}
			mutex.Unlock()
			mutex.Lock()
			inside -= pixels
			mutex.Unlock()
		}
	}
	var all sync.WaitGroup
	for i := range 200 {
		pixels := 11 * million
		if i%50 == 0 {
			pixels = 120 * million
		}
		all.Go(func() { r.with(pixels, step(pixels)) })
	}
	all.Wait()
	assert.Zero(t, inside)
	assert.Empty(t, r.places, "all room is given back")
	assert.True(t, alone)
	assert.LessOrEqual(t, small, 24*million)
	assert.Equal(t, 120*million, most)
}

// TestTwoPhotographsAtOnce: two of 12 million pixels have room beside each other, and each waits for the other.
func TestTwoPhotographsAtOnce(t *testing.T) {
	r := newRoom(atOnce)
	one, other := make(chan bool), make(chan bool)
	var both sync.WaitGroup
	both.Go(func() { r.with(12*million, func() { one <- true; <-other }) })
	both.Go(func() { r.with(12*million, func() { <-one; other <- true }) })
	both.Wait()
	assert.Empty(t, r.places)
}

// TestRoomIsGivenBack: a step that gives up loudly takes no room with it.
func TestRoomIsGivenBack(t *testing.T) {
	r := newRoom(3)
	assert.Panics(t, func() { r.with(2*million, func() { panic("damaged") }) })
	assert.Empty(t, r.places)
}

// scene is a photograph of 12 million pixels as a camera writes it, lying on its side.
func scene(t *testing.T) []byte {
	t.Helper()
	const width, height = 4000, 3000
	picture := image.NewYCbCr(image.Rect(0, 0, width, height), image.YCbCrSubsampleRatio420)
	for i := range picture.Y {
		x, y := i%width, i/width
		picture.Y[i] = uint8(90 + (x*5+y*3)/170%80 + (x*x+y*y)>>7%23)
	}
	for i := range picture.Cb {
		picture.Cb[i], picture.Cr[i] = uint8(110+i>>9%40), uint8(120+i>>11%30)
	}
	var b bytes.Buffer
	require.NoError(t, jpeg.Encode(&b, picture, &jpeg.Options{Quality: 80}))
	out := append([]byte{0xff, 0xd8}, segment(0xe1, exifBlock(6))...)
	return append(out, b.Bytes()[2:]...)
}

// TestManyAtOnce: twelve photographs of 12 million pixels, all asked for at once, stay within 600 MB. Each alone
// takes about 120 MB, so that they would take 1.4 GB without a bound. Another process is measured, since this one
// has made the photograph.
func TestManyAtOnce(t *testing.T) {
	const many, most = 12, 600
	if file := os.Getenv("TRUG_TEST_SCENE"); file != "" {
		manyAtOnce(t, file, many)
		return
	}
	if raced() {
		t.Skip("a race detector takes memory of its own")
	}
	file := filepath.Join(t.TempDir(), "scene.jpg")
	require.NoError(t, os.WriteFile(file, scene(t), 0o600))
	self, err := os.Executable()
	require.NoError(t, err)
	cmd := exec.Command(self, "-test.run", "^TestManyAtOnce$", "-test.v")
	cmd.Env = append(os.Environ(), "TRUG_TEST_SCENE="+file, "GOGC=400")
	out, err := cmd.CombinedOutput()
	require.NoError(t, err, string(out))
	_, text, found := strings.Cut(string(out), "peak of ")
	if !found {
		t.Skip("this system does not tell what a process takes at most")
	}
	var peak int
	_, err = fmt.Sscanf(text, "%d MB", &peak)
	require.NoError(t, err)
	t.Logf("%d MB for %d photographs at once", peak, many)
	assert.Less(t, peak, most)
	assert.Greater(t, peak, 60, "one photograph alone takes more")
}

// raced says whether this test was built with the race detector.
func raced() bool {
	info, _ := debug.ReadBuildInfo()
	for _, s := range info.Settings {
		if s.Key == "-race" && s.Value == "true" {
			return true
		}
	}
	return false
}

// manyAtOnce runs in a process of its own.
func manyAtOnce(t *testing.T, file string, many int) {
	var all sync.WaitGroup
	for range many {
		all.Go(func() {
			body, err := os.ReadFile(file)
			assert.NoError(t, err)
			set, err := Make(body)
			assert.NoError(t, err)
			assert.Equal(t, image.Pt(1600, 2133), image.Pt(set.Widest().Width, set.Widest().Height))
		})
	}
	all.Wait()
	status, err := os.ReadFile("/proc/self/status")
	if err != nil {
		return
	}
	_, peak, _ := strings.Cut(string(status), "VmHWM:")
	var kilobytes int
	_, err = fmt.Sscan(peak, &kilobytes)
	require.NoError(t, err)
	t.Logf("peak of %d MB", kilobytes/1024)
}
