package layouts

import (
	"html/template"
	"sync"
)

// A recurring template has small results that come again and again. Each is printed once for its key, which has to tell
// all that the template reads.
type recurring[K comparable] struct {
	guard   sync.RWMutex
	printed map[K]template.HTML
}

func (r *recurring[K]) once(key K, print func() (template.HTML, error)) (template.HTML, error) {
	r.guard.RLock()
	html, ok := r.printed[key]
	r.guard.RUnlock()
	if ok {
		return html, nil
	}
	html, err := print()
	if err == nil {
		r.keep(key, html)
	}
	return html, err
}

func (r *recurring[K]) keep(key K, html template.HTML) {
	r.guard.Lock()
	defer r.guard.Unlock()
	if r.printed == nil {
		r.printed = map[K]template.HTML{}
	}
	r.printed[key] = html
}
