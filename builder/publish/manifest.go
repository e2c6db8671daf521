package publish

import (
	"crypto/sha256"
	"encoding/hex"
	"fmt"
	"maps"
	"slices"
	"strings"
)

// ManifestName is the file in a published folder that lists what trug wrote there.
const ManifestName = ".trug-manifest"

// manifestHead is the first line of a manifest. It bears no date: the same site, the same bytes.
const manifestHead = "trug manifest 1: sha256 and path of every file that trug wrote into this folder"

// A digest is the SHA-256 of a file.
type digest [sha256.Size]byte

func writeManifest(sums map[string]digest) string {
	var b strings.Builder
	b.WriteString(manifestHead + "\n")
	for _, path := range slices.Sorted(maps.Keys(sums)) {
		b.WriteString(sums[path].String() + "  " + path + "\n")
	}
	return b.String()
}

// readManifest returns the sums by path of a manifest's text. A carriage return before the line end,
// which some tools for sharing folders add, does no harm.
func readManifest(text string) (map[string]digest, error) {
	text = strings.ReplaceAll(text, "\r\n", "\n")
	lines := strings.Split(strings.TrimSuffix(text, "\n"), "\n")
	if lines[0] != manifestHead {
		return nil, fmt.Errorf("line 1 is not %q", manifestHead)
	}
	sums := map[string]digest{}
	for i, line := range lines[1:] {
		text, path, found := strings.Cut(line, "  ")
		sum, isSum := parseDigest(text)
		if !found || !isSum || checkPath(path) != nil {
			return nil, fmt.Errorf("line %d, %q, is not a sum and a path", i+2, line)
		}
		sums[path] = sum
	}
	return sums, nil
}

func parseDigest(s string) (d digest, ok bool) {
	raw, err := hex.DecodeString(s)
	return digest(append(raw, d[:]...)[:len(d)]), err == nil && len(raw) == len(d)
}
