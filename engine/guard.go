package engine

import (
	"io"

	"backpitch/engine/policy"
)

// Guard bounds the time and memory of rules; with a Child, rules are judged in
// processes of their own.
type Guard = policy.Guard

// Serve judges for another process until in ends: what a Guard's Child runs.
func Serve(in io.Reader, out io.Writer) int { return policy.Serve(in, out) }

// Close ends the processes that the engine has started. The end of this one
// ends them, too.
func (e *Engine) Close() error {
	e.mu.Lock()
	defer e.mu.Unlock()
	for _, o := range e.open {
		o.once.Do(func() {})
		if o.reviewer != nil {
			if err := o.reviewer.prepared.Close(); err != nil {
				return err
			}
		}
	}
	return nil
}
