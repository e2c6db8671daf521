package plan_test

import (
	"testing"

	"trug/calcblocks/diary"
	"trug/calcblocks/kit/block"
	"trug/calcblocks/kit/blocktest"
	"trug/calcblocks/plan"
	"trug/calcblocks/reading"
	"trug/calcblocks/recipe"
)

var others = []block.Kind{recipe.Kind, diary.Kind, reading.Kind}

func TestCases(t *testing.T) { blocktest.Run(t, plan.Kind, others...) }
