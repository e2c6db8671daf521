package publish

import (
	"crypto/sha256"
	"encoding/hex"
	"errors"
	"fmt"
	"maps"
	"slices"
	"strings"
)

// ManifestName is the file in a published folder that lists what trug wrote there.
const ManifestName = ".trug-manifest"

// manifestHead is the first line of a manifest. It bears no date: the same site, the same bytes.
const manifestHead = "trug manifest 1: sha256 and path of every file that trug wrote into this folder"

// A site is a checked list of files, in the order of their paths.
type site struct {
	files    []File
	sums     map[string]string // SHA-256 by path, hexadecimal
	manifest string
}

func newSite(files []File) (site, error) {
	if len(files) == 0 {
		return site{}, errors.New("no files to publish: a site needs at least one")
	}
	s := site{files: slices.Clone(files), sums: map[string]string{}}
	slices.SortFunc(s.files, func(a, b File) int { return strings.Compare(a.Path, b.Path) })
	set := newPathSet()
	for _, f := range s.files {
		if err := checkPath(f.Path); err != nil {
			return site{}, err
		}
		if err := set.add(f.Path); err != nil {
			return site{}, err
		}
		s.sums[f.Path] = sum(f.Body)
	}
	s.manifest = writeManifest(s.sums)
	return s, nil
}

func sum(body []byte) string {
	h := sha256.Sum256(body)
	return hex.EncodeToString(h[:])
}

func writeManifest(sums map[string]string) string {
	var b strings.Builder
	b.WriteString(manifestHead + "\n")
	for _, path := range slices.Sorted(maps.Keys(sums)) {
		fmt.Fprintf(&b, "%s  %s\n", sums[path], path)
	}
	return b.String()
}

// readManifest returns the sums by path of a manifest's text. A carriage return before the line end,
// which some tools for sharing folders add, does no harm.
func readManifest(text string) (map[string]string, error) {
	text = strings.ReplaceAll(text, "\r\n", "\n")
	lines := strings.Split(strings.TrimSuffix(text, "\n"), "\n")
	if lines[0] != manifestHead {
		return nil, fmt.Errorf("line 1 is not %q", manifestHead)
	}
	sums := map[string]string{}
	for i, line := range lines[1:] {
		digest, path, found := strings.Cut(line, "  ")
		if !found || !isSum(digest) || checkPath(path) != nil {
			return nil, fmt.Errorf("line %d, %q, is not a sum and a path", i+2, line)
		}
		sums[path] = digest
	}
	return sums, nil
}

func isSum(s string) bool {
	raw, err := hex.DecodeString(s)
	return err == nil && len(raw) == sha256.Size
}
