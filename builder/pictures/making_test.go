package pictures

import (
	"crypto/sha256"
	"fmt"
	"os"
	"runtime"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

// TestMaking: a published site keeps the pictures that it has by their names, so that the same name must mean the
// same bytes. When this fails, raise "making" and run it with TRUG_WRITE=1.
func TestMaking(t *testing.T) {
	if runtime.GOARCH != "amd64" {
		t.Skip("the last bit of a fraction differs between machines, and sites are compared on amd64")
	}
	const file = "testdata/making.txt"
	sum := sha256.New()
	for _, width := range []int{1700, 300} {
		set, err := Make(photograph(t, quarters(width, 900), 6))
		require.NoError(t, err)
		for _, f := range set.Files {
			sum.Write(f.Body)
		}
	}
	now := fmt.Sprintf("%s %x\n", making, sum.Sum(nil))
	was, err := os.ReadFile(file)
	if version, _, _ := strings.Cut(string(was), " "); os.Getenv("TRUG_WRITE") != "" && version != making {
		require.NoError(t, os.MkdirAll("testdata", 0o755))
		require.NoError(t, os.WriteFile(file, []byte(now), 0o644))
		return
	}
	require.NoError(t, err)
	assert.Equal(t, string(was), now, "pictures come out in other bytes under the same name")
}
