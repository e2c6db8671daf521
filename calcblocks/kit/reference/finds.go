package reference

import "sync"

// finds are the figures that were looked up so far, by file and path. Blocks look up at the same time.
type finds struct {
	sync.RWMutex
	figures map[string]Figure
}

func (f *finds) get(file string, path []string) (Figure, bool) {
	var room [128]byte
	key := wayTo(room[:0], file, path)
	f.RLock()
	defer f.RUnlock()
	found, ok := f.figures[string(key)] // makes no string
	return found, ok
}

func (f *finds) put(file string, path []string, figure Figure) {
	f.Lock()
	defer f.Unlock()
	if f.figures == nil {
		f.figures = map[string]Figure{}
	}
	f.figures[string(wayTo(nil, file, path))] = figure
}

// wayTo writes a file and the names of a path, each on a line.
func wayTo(to []byte, file string, path []string) []byte {
	to = append(to, file...)
	for _, name := range path {
		to = append(append(to, '\n'), name...)
	}
	return to
}
