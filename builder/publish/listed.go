package publish

import (
	"crypto/sha256"
	"encoding/hex"
	"os"
	"path/filepath"
)

// Listed returns the sum of every file that the manifest of a published folder lists: SHA-256 in hexadecimal,
// by path. It is nil where there is no manifest that reads.
func Listed(dir string) map[string]string {
	text, err := os.ReadFile(filepath.Join(dir, ManifestName))
	if err != nil {
		return nil
	}
	sums, err := readManifest(string(text))
	if err != nil {
		return nil
	}
	listed := make(map[string]string, len(sums))
	for path, sum := range sums {
		listed[path] = sum.String()
	}
	return listed
}

// ReadListed returns a file of a published folder if it is as the manifest says; listed is what Listed says of it.
func ReadListed(dir, path, listed string) ([]byte, bool) {
	root, err := os.OpenRoot(dir)
	if err != nil {
		return nil, false
	}
	defer root.Close()
	body, err := root.ReadFile(filepath.FromSlash(path))
	return body, err == nil && digest(sha256.Sum256(body)).String() == listed
}

// String returns the sum in hexadecimal, as manifests have it.
func (d digest) String() string { return hex.EncodeToString(d[:]) }
