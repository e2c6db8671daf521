package shopping_test

import (
	"testing"

	"trug/calcblocks/kit/block"
	"trug/calcblocks/kit/blocktest"
	"trug/calcblocks/plan"
	"trug/calcblocks/recipe"
	"trug/calcblocks/shopping"
)

var others = []block.Kind{recipe.Kind, plan.Kind}

func TestCases(t *testing.T) { blocktest.Run(t, shopping.Kind, others...) }
