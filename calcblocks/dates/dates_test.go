package dates_test

import (
	"testing"

	"trug/calcblocks/dates"
	"trug/calcblocks/kit/blocktest"
)

func TestCases(t *testing.T) { blocktest.Run(t, dates.Kind, planKind) }
