package builder

import (
	"errors"
	"runtime"
	"sync"
	"sync/atomic"
)

// each does a step for 0 to n-1 with the handbook's workers.
func (h *Handbook) each(n int, do func(int) error) error {
	return each(h.workers, n, func(i int) error {
		if err := h.stopped(); err != nil {
			return err
		}
		return do(i)
	})
}

// stopped returns ErrStopped when the build is to end.
func (h *Handbook) stopped() error {
	select {
	case <-h.stop:
		return ErrStopped
	default:
		return nil
	}
}

// each does a step for 0 to n-1 with so many workers at once, 0 for one a core. After a step has failed none is
// begun; the errors come back in the order of the steps.
func each(workers, n int, do func(int) error) error {
	if workers <= 0 {
		workers = runtime.GOMAXPROCS(0)
	}
	errs := make([]error, n)
	var next atomic.Int64
	var failed atomic.Bool
	var all sync.WaitGroup
	for range min(workers, n) {
		all.Go(func() {
			for i := int(next.Add(1)) - 1; i < n && !failed.Load(); i = int(next.Add(1)) - 1 {
				if errs[i] = do(i); errs[i] != nil {
					failed.Store(true)
				}
			}
		})
	}
	all.Wait()
	return errors.Join(errs...)
}
