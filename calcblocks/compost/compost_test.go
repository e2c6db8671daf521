package compost_test

import (
	"testing"

	"trug/calcblocks/compost"
	"trug/calcblocks/kit/blocktest"
)

func TestCases(t *testing.T) { blocktest.Run(t, compost.Kind) }
