package pictures

import (
	"bytes"
	"image"
	"image/color"
	"image/gif"
	"image/png"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

// film is a GIF of frames of several sizes, each at its place, every other with colours of its own.
func film(t *testing.T, sizes ...image.Point) []byte {
	t.Helper()
	g := gif.GIF{Config: image.Config{Width: 300, Height: 200}}
	for i, size := range sizes {
		at := image.Pt(i%5, i%7)
		palette := color.Palette{red, color.White}
		if i%2 == 0 {
			palette = color.Palette{blue, color.White, green, color.Black, red}
		}
		g.Image = append(g.Image, image.NewPaletted(image.Rectangle{Min: at, Max: at.Add(size)}, palette))
		g.Delay = append(g.Delay, 10)
	}
	var b bytes.Buffer
	require.NoError(t, gif.EncodeAll(&b, &g))
	return b.Bytes()
}

// TestFramesAreCounted without unfolding them, as a reader that unfolds them finds them.
func TestFramesAreCounted(t *testing.T) {
	for _, sizes := range [][]image.Point{{{300, 200}}, {{20, 20}, {290, 190}, {1, 1}}, make([]image.Point, 0)} {
		if len(sizes) == 0 {
			for i := range 90 {
				sizes = append(sizes, image.Pt(1+i*3, 2+i*2))
			}
		}
		body := film(t, sizes...)
		g, err := gif.DecodeAll(bytes.NewReader(body))
		require.NoError(t, err)
		want := 0
		for _, f := range g.Image {
			want += len(f.Pix)
		}
		assert.Equal(t, want, gifPixels(body))
		for n := range len(body) {
			assert.LessOrEqual(t, gifPixels(body[:n]), want, "cut short")
		}
	}
	assert.Zero(t, gifPixels(nil))
}

// TestFilmThatUnfoldsIntoGigabytes is refused before it is unfolded: a small file of one frame many times over.
func TestFilmThatUnfoldsIntoGigabytes(t *testing.T) {
	var b bytes.Buffer
	still := image.NewPaletted(image.Rect(0, 0, 8000, 8000), color.Palette{red, color.White})
	require.NoError(t, gif.EncodeAll(&b, &gif.GIF{Image: []*image.Paletted{still}, Delay: []int{1}}))
	one := b.Bytes()
	frame := one[13+colours(one[10]) : len(one)-1]
	body := bytes.Clone(one[:len(one)-1])
	for range 19 {
		body = append(body, frame...)
	}
	body = append(body, 0x3b)
	require.Less(t, len(body), 2_000_000)
	assert.Equal(t, 20*64_000_000, gifPixels(body))
	_, err := Make(body)
	assert.ErrorIs(t, err, ErrTooLarge)
}

// TestMovingPNGIsShownStill: its first picture comes out, and the frames behind it are never unfolded.
func TestMovingPNGIsShownStill(t *testing.T) {
	var b bytes.Buffer
	require.NoError(t, png.Encode(&b, quarters(60, 40)))
	plain := b.Bytes()
	const head = 8 + 25
	control := "\x00\x00\x00\x00\x00\x00\x00\x3c\x00\x00\x00\x28\x00\x00\x00\x00\x00\x00\x00\x00\x00\x01\x00\x0a\x00\x00"
	body := append([]byte{}, plain[:head]...)
	body = append(body, chunk("acTL", "\x00\x00\x00\x02\x00\x00\x00\x00")...)
	body = append(body, chunk("fcTL", control)...)
	body = append(body, plain[head:len(plain)-12]...)
	body = append(body, chunk("fcTL", "\x00\x00\x00\x01"+control[4:])...)
	body = append(body, chunk("fdAT", "\x00\x00\x00\x02no picture at all")...)
	body = append(body, plain[len(plain)-12:]...)
	assert.Equal(t, plain, stillPNG(body))
	set, err := Make(body)
	require.NoError(t, err, "the damaged frame is not looked at")
	still, err := Make(plain)
	require.NoError(t, err)
	assert.Equal(t, still.Files, set.Files)
	for n := range len(body) {
		assert.LessOrEqual(t, len(stillPNG(body[:n])), n, "cut short")
	}
}
