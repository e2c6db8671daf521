package pictures

import (
	"encoding/binary"
	"math"
)

// gifPixels counts the pixels of all frames of a GIF file without unfolding them (GIF89a, sections 18 to 24). It
// stops where the file is damaged, as its readers do.
func gifPixels(body []byte) int {
	if len(body) < 13 {
		return 0
	}
	rest, total := skip(body, 13+colours(body[10])), 0
	for len(rest) > 0 {
		switch {
		case rest[0] == 0x21: // an extension: its label, then blocks
			rest = skipBlocks(skip(rest, 2))
		case rest[0] == 0x2c && len(rest) > 10: // a frame: its place and size, its colours, the size of its codes, blocks
			width, height := binary.LittleEndian.Uint16(rest[5:]), binary.LittleEndian.Uint16(rest[7:])
			total = min(total+int(width)*int(height), math.MaxInt32)
			rest = skipBlocks(skip(rest, 10+colours(rest[9])+1))
		default:
			return total
		}
	}
	return total
}

// colours is the length of the colour table that a byte of flags tells of.
func colours(flags byte) int {
	if flags&0x80 == 0 {
		return 0
	}
	return 3 << (flags&7 + 1)
}

func skip(body []byte, n int) []byte { return body[min(n, len(body)):] }

// skipBlocks skips blocks, each led by its length, and the empty one that ends them.
func skipBlocks(body []byte) []byte {
	for len(body) > 0 && body[0] != 0 {
		body = skip(body, 1+int(body[0]))
	}
	return skip(body, 1)
}

// stillPNG leaves out what makes a PNG file move: its first picture alone is shown, and only that is unfolded
// (PNG, third edition, section 11.3.6).
func stillPNG(body []byte) []byte {
	const head, frame = 8, 12 // the signature; of a chunk its length, name and sum
	out := append([]byte{}, body[:min(head, len(body))]...)
	for rest := skip(body, head); len(rest) > 0; {
		size := len(rest)
		if len(rest) >= frame {
			size = int(min(int64(binary.BigEndian.Uint32(rest))+frame, int64(len(rest))))
		}
		chunk := rest[:size]
		rest = rest[size:]
		if name := string(skip(chunk, 4)[:min(4, max(0, size-4))]); name != "acTL" && name != "fcTL" && name != "fdAT" {
			out = append(out, chunk...)
		}
	}
	return out
}

// moving says whether a WebP file holds frames: its header of features sets the animation bit (RFC 9649,
// section 2.7).
func moving(body []byte) bool {
	return len(body) > 20 && string(body[12:16]) == "VP8X" && body[20]&0x02 != 0
}
