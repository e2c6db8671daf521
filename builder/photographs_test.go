package builder

import (
	"bytes"
	"crypto/sha256"
	"encoding/binary"
	"encoding/hex"
	"fmt"
	"image"
	"image/jpeg"
	"io/fs"
	"os"
	"os/exec"
	"path/filepath"
	"strconv"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"trug/builder/pictures"
	"trug/builder/publish"
)

// scene is a picture of a size as a JPEG file, with as many details as a photograph of leaves.
func scene(t *testing.T, width, height, n int) []byte {
	t.Helper()
	picture := image.NewYCbCr(image.Rect(0, 0, width, height), image.YCbCrSubsampleRatio420)
	for i := range picture.Y {
		x, y := i%width, i/width
		picture.Y[i] = uint8(90 + (x*5+y*3)/170%80 + (x*x+y*y*n)>>7%43)
	}
	for i := range picture.Cb {
		picture.Cb[i], picture.Cr[i] = uint8(110+i>>9%40), uint8(120+i>>11%30)
	}
	var b bytes.Buffer
	require.NoError(t, jpeg.Encode(&b, picture, &jpeg.Options{Quality: 85}))
	return b.Bytes()
}

// shotNumber is a scene as photograph of a number: no two have the same bytes, and every other lies on its side
// (Exif 2.3, section 4.6.4: the orientation is tag 0x0112).
func shotNumber(scene []byte, n int) []byte {
	turned := byte(1 + n%2*5)
	exif := "Exif\x00\x00MM\x00*\x00\x00\x00\x08\x00\x01\x01\x12\x00\x03\x00\x00\x00\x01\x00" + string(turned) + "\x00\x00\x00\x00\x00\x00"
	out := []byte{0xff, 0xd8}
	for _, segment := range []string{"\xe1" + exif, "\xfe" + "photograph " + strconv.Itoa(n)} {
		out = append(out, 0xff, segment[0])
		out = binary.BigEndian.AppendUint16(out, uint16(len(segment)+1))
		out = append(out, segment[1:]...)
	}
	return append(out, scene[2:]...)
}

// writeAlbum writes a handbook with so many photographs, ten to a note.
func writeAlbum(t *testing.T, dir string, many, width, height int) {
	t.Helper()
	write := func(name string, text []byte) {
		require.NoError(t, os.WriteFile(filepath.Join(dir, name), text, 0o644))
	}
	require.NoError(t, os.MkdirAll(dir, 0o755))
	scenes := [][]byte{scene(t, width, height, 1), scene(t, width, height, 2), scene(t, width, height, 3)}
	text := ""
	for n := range many {
		write(fmt.Sprintf("shot-%03d.jpg", n), shotNumber(scenes[n%len(scenes)], n))
		text += fmt.Sprintf("![The bench in light %d](shot-%03d.jpg)\n\n", n, n)
		if n%10 == 9 || n == many-1 {
			write(fmt.Sprintf("album-%02d.md", n/10), []byte("# Album "+strconv.Itoa(n/10)+"\n\n"+text))
			text = ""
		}
	}
}

// TestPhotographsWithinMemory builds a handbook of photographs of 12 million pixels in a process of its own, twice:
// anew, and over the site that is there. TRUG_PHOTOGRAPHS=200 takes that many instead of six.
func TestPhotographsWithinMemory(t *testing.T) {
	if dir := os.Getenv("TRUG_TEST_ALBUM"); dir != "" {
		buildMeasured(t, dir)
		return
	}
	many := 6
	if asked := os.Getenv("TRUG_PHOTOGRAPHS"); asked != "" {
		var err error
		many, err = strconv.Atoi(asked)
		require.NoError(t, err)
	}
	dir := t.TempDir()
	writeAlbum(t, filepath.Join(dir, "content"), many, 4000, 3000)
	first, known := peakOf(t, dir)
	again, _ := peakOf(t, dir)
	if !known {
		t.Skip("this system does not tell what a process takes at most")
	}
	t.Logf("%d photographs: %d MB anew, %d MB over the site", many, first, again)
	assert.Less(t, first, 600)
	assert.Less(t, again, first, "a photograph that the site has is not unfolded again")
}

// peakOf builds in another process and returns the most memory that it took, in MB.
func peakOf(t *testing.T, dir string) (int, bool) {
	t.Helper()
	self, err := os.Executable()
	require.NoError(t, err)
	cmd := exec.Command(self, "-test.run", "^TestPhotographsWithinMemory$", "-test.v", "-test.timeout", "0")
	cmd.Env = append(os.Environ(), "TRUG_TEST_ALBUM="+dir)
	out, err := cmd.CombinedOutput()
	require.NoError(t, err, string(out))
	t.Log(string(out))
	_, text, found := strings.Cut(string(out), "peak of ")
	if !found {
		return 0, false
	}
	var peak int
	_, err = fmt.Sscanf(text, "%d MB", &peak)
	require.NoError(t, err)
	return peak, true
}

// buildMeasured runs in a process of its own.
func buildMeasured(t *testing.T, dir string) {
	report, err := Build(Options{Content: filepath.Join(dir, "content"), Out: filepath.Join(dir, "site"), Today: today})
	require.NoError(t, err)
	require.Zero(t, report.Faults, printed(report.Diagnostics))
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

// TestPublishedPicturesAreTakenOver: a picture that the site has by its name is not made again, one that is not as
// it was written is.
func TestPublishedPicturesAreTakenOver(t *testing.T) {
	dir := t.TempDir()
	content, out := filepath.Join(dir, "content"), filepath.Join(dir, "site")
	writeAlbum(t, content, 2, 700, 500)
	build := func() map[string]string {
		report, err := Build(Options{Content: content, Out: out, Today: today})
		require.NoError(t, err)
		require.Zero(t, report.Faults, printed(report.Diagnostics))
		return filesBelow(t, out)
	}
	anew := build()
	assert.Equal(t, anew, build(), "with the site and without it the same comes out")
	at := "pictures/shot-000-" + pictures.Name([]byte(filesBelow(t, content)["shot-000.jpg"])) + "/480.jpg"
	require.Contains(t, anew, at)

	other := scene(t, 480, 343, 7)
	put := func(body []byte) { require.NoError(t, os.WriteFile(filepath.Join(out, at), body, 0o644)) }
	put(other)
	assert.Equal(t, anew, build(), "a file that is not as it was written is made anew")

	put(other)
	list := filepath.Join(out, publish.ManifestName)
	old, new := sha256.Sum256([]byte(anew[at])), sha256.Sum256(other)
	text := strings.Replace(anew[publish.ManifestName], hex.EncodeToString(old[:]), hex.EncodeToString(new[:]), 1)
	require.NoError(t, os.WriteFile(list, []byte(text), 0o644))
	assert.Equal(t, string(other), build()[at], "a file that is as it was written is taken as it is")
}

// filesBelow returns the text of every file below a folder by its path.
func filesBelow(t *testing.T, dir string) map[string]string {
	t.Helper()
	out := map[string]string{}
	files := os.DirFS(dir)
	require.NoError(t, fs.WalkDir(files, ".", func(name string, d fs.DirEntry, err error) error {
		if err != nil || d.IsDir() {
			return err
		}
		text, err := fs.ReadFile(files, name)
		out[name] = string(text)
		return err
	}))
	return out
}

// TestPicturesWaitForAFaultToGo: while a fault keeps the site from being published, the cache keeps what was made.
func TestPicturesWaitForAFaultToGo(t *testing.T) {
	dir := t.TempDir()
	content, out := filepath.Join(dir, "content"), filepath.Join(dir, "site")
	writeAlbum(t, content, 2, 700, 500)
	faulty := filepath.Join(content, "faulty.md")
	require.NoError(t, os.WriteFile(faulty, []byte("# Faulty\n\n[nowhere](nowhere.md)\n"), 0o644))
	require.NoError(t, os.WriteFile(filepath.Join(content, "torn.jpg"), []byte("torn"), 0o644))
	require.NoError(t, os.WriteFile(filepath.Join(content, "torn.md"), []byte("# Torn\n\n![Torn](torn.jpg)\n"), 0o644))
	cache := newCache(t)
	build := func() Report {
		report, err := Build(Options{Content: content, Out: out, Today: today, Cache: cache})
		require.NoError(t, err)
		return report
	}
	require.Equal(t, 2, build().Faults)
	require.Len(t, cache.negatives.made, 3)
	body, err := os.ReadFile(filepath.Join(content, "shot-001.jpg"))
	require.NoError(t, err)
	one, err := cache.develop(body)
	require.NoError(t, err)
	two, err := cache.develop(body)
	require.NoError(t, err)
	assert.Same(t, &one.Files[0].Body[0], &two.Files[0].Body[0], "the very same bytes, not the same made twice")
	assert.Equal(t, 2, build().Faults)
	require.NoError(t, os.Remove(faulty))
	require.NoError(t, os.Remove(filepath.Join(content, "torn.md")))
	assert.Zero(t, build().Faults)
	assert.Positive(t, cache.negatives.bytes)
	assert.Zero(t, build().Faults)
	assert.Zero(t, cache.negatives.bytes, "the site holds them now")
}

// TestNegativesAreBounded: what is kept never takes more than is said.
func TestNegativesAreBounded(t *testing.T) {
	var n negatives
	for i := range 40 {
		n.keep(strconv.Itoa(i), negative{set: pictures.Set{Files: []pictures.File{{Body: make([]byte, 10<<20)}}}})
		total := 0
		for _, it := range n.made {
			total += len(it.set.Files[0].Body)
		}
		require.Equal(t, n.bytes, total)
		require.LessOrEqual(t, total, mostKept)
		require.Contains(t, n.made, strconv.Itoa(i))
	}
}
