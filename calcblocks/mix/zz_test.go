package mix_test
import ("testing";"fmt";"trug/calcblocks/kit/blocktest";"trug/calcblocks/kit/data";"trug/calcblocks/mix")
func TestX(t *testing.T){
 for _, b := range []string{"title: Tomato mix\nmake: 120 L\nparts: {peat: 3, yard-compost: 1, perlite: 1}\nlime: 2 g/L\namendments:\n  kelp-meal: 1 cup\n  gypsum: 1 g/L\n  alfalfa-meal: 2 to 3 cups\n", "make: 60 L\nparts: {coir: 1, perlite: 1}\n"} {
 out := blocktest.Compute(mix.Kind, blocktest.Input{ID:"x", Body:b})
 fmt.Println(out.Printed(), out.Text(), string(data.JSON(out.Data))[:9000])
 break
 }
}
