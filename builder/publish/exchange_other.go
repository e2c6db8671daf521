//go:build !linux && !darwin

package publish

import "errors"

// exchange is not known to this system.
func exchange(_, _ string) error { return errors.ErrUnsupported }
