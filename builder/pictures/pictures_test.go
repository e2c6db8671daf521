package pictures

import (
	"bytes"
	"encoding/base64"
	"encoding/binary"
	"hash/crc32"
	"image"
	"image/color"
	"image/draw"
	"image/gif"
	"image/jpeg"
	"image/png"
	"os"
	"os/exec"
	"path/filepath"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

var (
	red   = color.RGBA{200, 30, 30, 255}
	blue  = color.RGBA{30, 30, 200, 255}
	green = color.RGBA{30, 160, 30, 255}
)

// quarters is a picture whose top left quarter is red and top right quarter blue, the rest green: it shows
// which way up it is.
func quarters(width, height int) *image.RGBA {
	out := image.NewRGBA(image.Rect(0, 0, width, height))
	draw.Draw(out, out.Bounds(), image.NewUniform(green), image.Point{}, draw.Src)
	draw.Draw(out, image.Rect(0, 0, width/2, height/2), image.NewUniform(red), image.Point{}, draw.Src)
	draw.Draw(out, image.Rect(width/2, 0, width, height/2), image.NewUniform(blue), image.Point{}, draw.Src)
	return out
}

// tag is one entry of a TIFF directory with a value of four bytes or less, or an offset to it (TIFF 6.0,
// section 2).
func tag(id, kind uint16, count, value uint32) []byte {
	out := binary.BigEndian.AppendUint16(nil, id)
	out = binary.BigEndian.AppendUint16(out, kind)
	out = binary.BigEndian.AppendUint32(out, count)
	return binary.BigEndian.AppendUint32(out, value)
}

// exifBlock is what a camera writes: an orientation, its maker, and a directory with a position (Exif 2.3,
// sections 4.6.4 and 4.6.6). Kinds: 2 text, 3 short, 4 long, 5 fractions.
func exifBlock(orientation uint32) []byte {
	const maker, position, degrees = 8 + 2 + 3*12 + 4, 8 + 2 + 3*12 + 4 + 16, 8 + 2 + 3*12 + 4 + 16 + 2 + 4*12 + 4
	out := []byte("MM\x00*\x00\x00\x00\x08")
	out = append(out, 0, 3)
	out = append(out, tag(0x010f, 2, 16, maker)...)
	out = append(out, tag(0x0112, 3, 1, orientation<<16)...)
	out = append(out, tag(0x8825, 4, 1, position)...)
	out = append(out, 0, 0, 0, 0)
	out = append(out, "Courtyard maker\x00"...)
	out = append(out, 0, 4)
	out = append(out, tag(1, 2, 2, 'N'<<24)...)
	out = append(out, tag(2, 5, 3, degrees)...)
	out = append(out, tag(3, 2, 2, 'E'<<24)...)
	out = append(out, tag(4, 5, 3, degrees+24)...)
	out = append(out, 0, 0, 0, 0)
	for _, n := range []uint32{48, 12, 34, 11, 34, 56} {
		out = binary.BigEndian.AppendUint32(binary.BigEndian.AppendUint32(out, n), 1)
	}
	return append([]byte("Exif\x00\x00"), out...)
}

// segment is one segment of a JPEG file.
func segment(marker byte, body []byte) []byte {
	out := binary.BigEndian.AppendUint16([]byte{0xff, marker}, uint16(len(body)+2))
	return append(out, body...)
}

// photograph is a JPEG as a camera writes it: its Exif block, an XMP packet and a comment stand in front.
func photograph(t *testing.T, picture image.Image, orientation uint32) []byte {
	t.Helper()
	var b bytes.Buffer
	require.NoError(t, jpeg.Encode(&b, picture, &jpeg.Options{Quality: 95}))
	out := append([]byte{0xff, 0xd8}, segment(0xe1, exifBlock(orientation))...)
	out = append(out, segment(0xe1, []byte("http://ns.adobe.com/xap/1.0/\x00<x:xmpmeta>Hidden words</x:xmpmeta>"))...)
	out = append(out, segment(0xfe, []byte("Hidden comment"))...)
	return append(out, b.Bytes()[2:]...)
}

func decoded(t *testing.T, body []byte) (image.Image, string) {
	t.Helper()
	picture, format, err := image.Decode(bytes.NewReader(body))
	require.NoError(t, err)
	return picture, format
}

// assertColour looks at one pixel, near enough for a lossy file.
func assertColour(t *testing.T, want color.RGBA, picture image.Image, x, y int, what string) {
	t.Helper()
	r, g, b, _ := picture.At(x, y).RGBA()
	assert.InDelta(t, want.R, r>>8, 12, what)
	assert.InDelta(t, want.G, g>>8, 12, what)
	assert.InDelta(t, want.B, b>>8, 12, what)
}

// assertBare finds none of the words that the camera wrote.
func assertBare(t *testing.T, body []byte) {
	t.Helper()
	for _, word := range []string{"Exif", "Hidden", "xmp", "Courtyard", "MM\x00*", "II*\x00", "\x88\x25", "GPS", "ICC_PROFILE", "eXIf", "tEXt", "iTXt"} {
		assert.NotContains(t, string(body), word)
	}
}

// TestPhotographComesOutUpright: the camera was held upright, so its rows run from bottom to top and the tag
// says 6: turn a quarter clockwise.
func TestPhotographComesOutUpright(t *testing.T) {
	upright := quarters(1200, 2000)
	lying := image.NewRGBA(image.Rect(0, 0, 2000, 1200))
	for y := range 1200 {
		for x := range 2000 { // row y of the file is column 1199-y of the scene; its column x is row x
			lying.Set(x, y, upright.At(1199-y, x))
		}
	}
	body := photograph(t, lying, 6)
	require.Contains(t, string(body), "Exif")
	set, err := Make(body)
	require.NoError(t, err)
	require.Len(t, set.Files, 3)
	for i, width := range []int{480, 960, 1200} {
		f := set.Files[i]
		assert.Equal(t, ".jpg", f.Ending)
		assert.Equal(t, [2]int{width, width * 2000 / 1200}, [2]int{f.Width, f.Height})
		picture, format := decoded(t, f.Body)
		assert.Equal(t, "jpeg", format)
		assert.Equal(t, image.Pt(f.Width, f.Height), picture.Bounds().Size(), "the file has the size that the page is told")
		assertColour(t, red, picture, width/4, f.Height/4, "top left")
		assertColour(t, blue, picture, width*3/4, f.Height/4, "top right")
		assertColour(t, green, picture, width/4, f.Height*3/4, "below")
		assertBare(t, f.Body)
	}
}

// TestEveryOrientation: all eight tags give the picture that an independent hand turned.
func TestEveryOrientation(t *testing.T) {
	scene := quarters(40, 60)
	// where the scene's pixel (x, y) of a 40 x 60 scene stands in the file, by tag (Exif 2.3, table 5)
	stands := map[uint32]func(x, y int) (int, int){
		1: func(x, y int) (int, int) { return x, y },
		2: func(x, y int) (int, int) { return 39 - x, y },
		3: func(x, y int) (int, int) { return 39 - x, 59 - y },
		4: func(x, y int) (int, int) { return x, 59 - y },
		5: func(x, y int) (int, int) { return y, x },
		6: func(x, y int) (int, int) { return y, 39 - x },
		7: func(x, y int) (int, int) { return 59 - y, 39 - x },
		8: func(x, y int) (int, int) { return 59 - y, x },
	}
	for orientation, place := range stands {
		size := image.Rect(0, 0, 40, 60)
		if orientation > 4 {
			size = image.Rect(0, 0, 60, 40)
		}
		file := image.NewRGBA(size)
		for y := range 60 {
			for x := range 40 {
				fx, fy := place(x, y)
				file.Set(fx, fy, scene.At(x, y))
			}
		}
		set, err := Make(photograph(t, file, orientation))
		require.NoError(t, err)
		require.Len(t, set.Files, 1, "never scaled up")
		picture, _ := decoded(t, set.Widest().Body)
		require.Equal(t, image.Pt(40, 60), picture.Bounds().Size(), "tag %d", orientation)
		assertColour(t, red, picture, 8, 12, "top left")
		assertColour(t, blue, picture, 32, 12, "top right")
		assertColour(t, green, picture, 20, 48, "below")
	}
}

// TestNothingIsLeftForReaders asks a tool that knows far more places for words than this test does.
func TestNothingIsLeftForReaders(t *testing.T) {
	if _, err := exec.LookPath("exiftool"); err != nil {
		t.Skip("exiftool is not installed")
	}
	body := photograph(t, quarters(700, 500), 3)
	assert.Contains(t, tool(t, body), "GPSLatitude: 48.2", "the tool sees the position in the photograph")
	set, err := Make(body)
	require.NoError(t, err)
	for _, f := range set.Files {
		said := tool(t, f.Body)
		for _, word := range []string{"GPS", "Orientation", "Make", "Comment", "XMP", "Exif", "Thumbnail"} {
			assert.NotContains(t, said, word+":")
			assert.NotContains(t, said, word+"L")
		}
		assert.Contains(t, said, "ImageWidth: ")
	}
}

// tool returns what exiftool says of a file, one "name: value" a line, without what it says of the disk.
func tool(t *testing.T, body []byte) string {
	t.Helper()
	file := filepath.Join(t.TempDir(), "picture.jpg")
	require.NoError(t, os.WriteFile(file, body, 0o600))
	out, err := exec.Command("exiftool", "-s", "-n", "-a", "-u", "-G0:1", file).Output()
	require.NoError(t, err)
	var lines []string
	for line := range strings.Lines(string(out)) {
		if !strings.HasPrefix(line, "[File:System]") {
			_, rest, _ := strings.Cut(line, "]")
			lines = append(lines, strings.Join(strings.Fields(rest), " "))
		}
	}
	return strings.ReplaceAll(strings.Join(lines, "\n"), " : ", ": ")
}

// chunk is one chunk of a PNG file.
func chunk(name, body string) []byte {
	out := binary.BigEndian.AppendUint32(nil, uint32(len(body)))
	out = append(out, name+body...)
	return binary.BigEndian.AppendUint32(out, crc32.ChecksumIEEE([]byte(name+body)))
}

// TestDrawingStaysSharpAndClear: a PNG stays one, keeps its transparency and loses its words.
func TestDrawingStaysSharpAndClear(t *testing.T) {
	drawing := image.NewNRGBA(image.Rect(0, 0, 1000, 500))
	draw.Draw(drawing, image.Rect(0, 0, 500, 500), image.NewUniform(blue), image.Point{}, draw.Src)
	var b bytes.Buffer
	require.NoError(t, png.Encode(&b, drawing))
	head := 8 + 25 // the signature and the first chunk
	body := append([]byte{}, b.Bytes()[:head]...)
	body = append(body, chunk("tEXt", "Author\x00Hidden author")...)
	body = append(body, chunk("eXIf", string(exifBlock(1)[6:]))...)
	body = append(body, b.Bytes()[head:]...)
	set, err := Make(body)
	require.NoError(t, err)
	require.Len(t, set.Files, 3)
	for _, f := range set.Files {
		picture, format := decoded(t, f.Body)
		assert.Equal(t, "png", format)
		assertColour(t, blue, picture, f.Width/4, 10, "drawn")
		_, _, _, alpha := picture.At(f.Width*3/4, 10).RGBA()
		assert.Zero(t, alpha, "clear")
		assertBare(t, f.Body)
	}
}

// TestWebPBecomesWhatEveryReaderOpens: one pixel, lossless, as its specification lays it out.
func TestWebPBecomesWhatEveryReaderOpens(t *testing.T) {
	body, err := base64.StdEncoding.DecodeString("UklGRhoAAABXRUJQVlA4TA0AAAAvAAAAEAcQERGIiP4HAA==")
	require.NoError(t, err)
	set, err := Make(body)
	require.NoError(t, err)
	_, format := decoded(t, set.Widest().Body)
	assert.Contains(t, []string{"png", "jpeg"}, format)
	assert.Equal(t, 1, set.Widest().Width)
}

func TestWidths(t *testing.T) {
	for own, want := range map[int][]int{
		1: {1}, 479: {479}, 480: {480}, 481: {480, 481}, 960: {480, 960}, 1200: {480, 960, 1200},
		1600: {480, 960, 1600}, 1601: {480, 960, 1600}, 6000: {480, 960, 1600},
	} {
		assert.Equal(t, want, widths(own), own)
	}
}

func TestSameBytesEachTime(t *testing.T) {
	body := photograph(t, quarters(1700, 900), 8)
	first, err := Make(body)
	require.NoError(t, err)
	second, err := Make(body)
	require.NoError(t, err)
	assert.Equal(t, first, second)
	assert.Equal(t, Name(body), first.Name)
	assert.Regexp(t, `^[0-9a-f]{16}$`, first.Name)
	assert.NotEqual(t, first.Name, Name(photograph(t, quarters(1700, 901), 8)))
}

// TestGIFKeepsItsFrames: frames and size stay, the comment goes.
func TestGIFKeepsItsFrames(t *testing.T) {
	var frames gif.GIF
	for _, c := range []color.RGBA{red, blue, green} {
		f := image.NewPaletted(image.Rect(0, 0, 600, 20), color.Palette{c, color.White})
		frames.Image, frames.Delay = append(frames.Image, f), append(frames.Delay, 50)
	}
	var b bytes.Buffer
	require.NoError(t, gif.EncodeAll(&b, &frames))
	tail := b.Len() - 1
	body := append(append([]byte{}, b.Bytes()[:tail]...), "!\xfe\x0eHidden comment\x00;"...)
	set, err := Make(body)
	require.NoError(t, err)
	require.Len(t, set.Files, 1)
	assertBare(t, set.Files[0].Body)
	again, err := gif.DecodeAll(bytes.NewReader(set.Files[0].Body))
	require.NoError(t, err)
	assert.Len(t, again.Image, 3)
	assert.Equal(t, []int{600, 20}, []int{set.Files[0].Width, set.Files[0].Height})
}

// TestDamagedWordsHideNoPicture: a photograph whose Exif block is cut short is shown as it lies.
func TestDamagedWordsHideNoPicture(t *testing.T) {
	var b bytes.Buffer
	require.NoError(t, jpeg.Encode(&b, quarters(80, 40), nil))
	body := append([]byte{0xff, 0xd8}, segment(0xe1, exifBlock(6)[:30])...)
	set, err := Make(append(body, b.Bytes()[2:]...))
	require.NoError(t, err)
	assert.Equal(t, 80, set.Widest().Width)
}

func TestWhatIsNoPicture(t *testing.T) {
	whole := photograph(t, quarters(90, 90), 1)
	for name, body := range map[string][]byte{
		"nothing": nil, "words": []byte("not a picture at all"), "drawing in words": []byte(`<svg xmlns="http://www.w3.org/2000/svg"><script>x()</script></svg>`),
		"cut short": whole[:len(whole)/2],
	} {
		_, err := Make(body)
		assert.ErrorIs(t, err, ErrUnreadable, name)
	}
	huge := append([]byte("\x89PNG\r\n\x1a\n"), chunk("IHDR", "\x00\x01\x00\x00\x00\x01\x00\x00\x08\x02\x00\x00\x00")...)
	_, err := Make(huge)
	assert.ErrorIs(t, err, ErrTooLarge)
	assert.True(t, moving([]byte("RIFF\x00\x00\x00\x00WEBPVP8X\x0a\x00\x00\x00\x02\x00\x00\x00")))
	assert.False(t, moving([]byte("RIFF\x00\x00\x00\x00WEBPVP8X\x0a\x00\x00\x00\x10\x00\x00\x00")))
}
