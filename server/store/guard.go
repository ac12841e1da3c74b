package store

import (
	"fmt"
	"runtime/debug"
)

// panicError is a panic of bbolt, which is how it meets a damaged page.
type panicError struct{ value any }

func (e *panicError) Error() string { return fmt.Sprintf("bbolt: %v", e.value) }

// guard runs f and turns a panic, or a fault in mapped memory, into an error.
func guard(f func() error) (err error) {
	defer debug.SetPanicOnFault(debug.SetPanicOnFault(true))
	defer func() {
		if r := recover(); r != nil {
			err = &panicError{value: r}
		}
	}()
	return f()
}
