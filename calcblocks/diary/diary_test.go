package diary_test

import (
	"testing"

	"trug/calcblocks/diary"
	"trug/calcblocks/kit/blocktest"
	"trug/calcblocks/recipe"
)

func TestCases(t *testing.T) { blocktest.Run(t, diary.Kind, recipe.Kind) }
