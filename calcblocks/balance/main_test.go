package balance

import (
	"flag"
	"os"
	"testing"
)

// TestMain draws fewer examples: each solves several linear programs.
func TestMain(m *testing.M) {
	if err := flag.Set("rapid.checks", "25"); err != nil {
		panic(err)
	}
	os.Exit(m.Run())
}
