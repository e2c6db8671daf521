package balance

import (
	"testing"

	"trug/calcblocks/kit/blocktest"
)

func TestCases(t *testing.T) { blocktest.Run(t, Kind) }
