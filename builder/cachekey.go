package builder

import (
	"crypto/sha256"
	"encoding/binary"
	"fmt"
	"math"
	"time"

	"trug/calcblocks/kit/diag"
)

// groundOf is what every block stands on: the grower's files, the day, and the folder that places name.
func (h *Handbook) groundOf(files *trace) string {
	return sumOf(h.folder, h.today.Format(time.DateOnly), files.sum())
}

// keyOn is the sum of all that a block is computed from: its own text and place, the ground, and what the
// blocks of lower phases were computed from, which stands for what they told.
func (p *Placed) keyOn(ground, told string) string {
	return sumOf(ground, told, p.Kind.Name, p.ID, p.Source, spot(p.At), p.lines())
}

// lines are the lines of the file that the block takes up, from fence to fence: a message about it shows
// them. A block of a file of its own has its whole text as its source.
func (p *Placed) lines() string {
	if p.fence == nil || p.fence.At.File == nil {
		return ""
	}
	first, last := p.fence.At, p.fence.Position(math.MaxInt, 1)
	file := first.File
	return spot(first) + "\n" + file.Text[file.Offset(first.Line, 1):file.Offset(last.Line+1, 1)]
}

func spot(at diag.Position) string { return fmt.Sprintf("%s:%d:%d", at.Name(), at.Line, at.Column) }

// sumOf is the digest of texts and of where each ends.
func sumOf(parts ...string) string {
	digest := sha256.New()
	var chunk []byte // for all of them: a part may be a note
	for _, p := range parts {
		chunk = append(binary.AppendUvarint(chunk[:0], uint64(len(p))), p...)
		digest.Write(chunk)
	}
	return string(digest.Sum(nil))
}

func sumOfFile(text []byte, err error) string {
	if err != nil {
		return sumOf("none", err.Error())
	}
	return sumOf("text", string(text))
}
