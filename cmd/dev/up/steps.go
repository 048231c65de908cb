package up

import (
	"fmt"
	"io"
	"os"
	"sync"
	"time"
)

// Steps prints one line for each thing done, with the time it took. Several may be
// under way at once, so a line is written when its step ends; what takes long says so
// when it begins.
type Steps struct {
	mu    sync.Mutex
	out   io.Writer
	plain bool // no colours
}

// NewSteps prints to out, in colour where that is a terminal.
func NewSteps(out io.Writer) *Steps {
	s := &Steps{out: out, plain: true}
	if f, ok := out.(*os.File); ok && os.Getenv("NO_COLOR") == "" {
		if info, err := f.Stat(); err == nil && info.Mode()&os.ModeCharDevice != 0 {
			s.plain = false
		}
	}
	return s
}

// Step does one thing. The text it returns tells how it went, e.g. "15.18 at port 5433".
func (s *Steps) Step(name string, do func() (string, error)) error {
	begin := time.Now()
	text, err := do()
	took := time.Since(begin).Seconds()
	if err != nil {
		s.line("31", "✗", fmt.Sprintf("%-14s %-44s %6.1f s", name, "failed", took))
		return fmt.Errorf("%s: %w", name, err)
	}
	s.line("32", "✓", fmt.Sprintf("%-14s %-44s %6.1f s", name, text, took))
	return nil
}

// Say tells of something that takes long, or is worth knowing.
func (s *Steps) Say(format string, args ...any) {
	s.line("2", "·", fmt.Sprintf(format, args...))
}

func (s *Steps) line(colour, mark, text string) {
	s.mu.Lock()
	defer s.mu.Unlock()
	if !s.plain {
		mark = "\x1b[" + colour + "m" + mark + "\x1b[0m"
	}
	_, _ = fmt.Fprintf(s.out, "  %s %s\n", mark, text)
}
