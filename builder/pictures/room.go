package pictures

import (
	"runtime"
	"sync"
)

const (
	million = 1_000_000
	// atOnce is how many million pixels are unfolded at a time, by however many ask. A pixel takes up to
	// 13 bytes on its way: as it is read, in the web's colours, upright, and scaled.
	atOnce = 24
	// collectAfter is after how many million pixels their memory is given back. The collector goes by how much the
	// heap has grown, and would let the remains of as many photographs lie about as all else takes.
	collectAfter = 12
)

// A room holds so many million pixels. Who wants to unfold a picture waits until there is room for it; one
// that is larger than the room has it alone.
type room struct {
	door   sync.Mutex // one at a time goes in, so that a large picture is not kept waiting by small ones
	places chan struct{}
	mutex  sync.Mutex
	used   int // million pixels that came out since memory was given back
}

func newRoom(millions int) *room { return &room{places: make(chan struct{}, millions)} }

// with runs a step that unfolds so many pixels.
func (r *room) with(pixels int, step func()) {
	n := min((pixels+million-1)/million, cap(r.places))
	r.enter(n)
	defer r.leave(n)
	step()
}

func (r *room) enter(n int) {
	r.door.Lock()
	defer r.door.Unlock()
	for range n {
		r.places <- struct{}{}
	}
}

func (r *room) leave(n int) {
	r.mutex.Lock()
	r.used += n
	if r.used >= collectAfter {
		r.used = 0
		runtime.GC()
	}
	r.mutex.Unlock()
	for range n {
		<-r.places
	}
}
