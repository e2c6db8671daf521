package diary_test
import ("testing";"time";"trug/builder")
func TestZZ(t *testing.T){
 h,err:=builder.Read("/tmp/dtry/content", time.Time{})
 t.Log(len(h.Facts), err)
}
