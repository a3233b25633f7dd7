package report

import (
	"bytes"
	"io"
)

// A spool keeps what can be printed only at the end: a little in memory, more
// in the file that open makes. Without open all of it stays in memory.
type spool struct {
	open func() (io.ReadWriteSeeker, error)
	mem  bytes.Buffer
	file io.ReadWriteSeeker
}

const spoolInMemory = 1 << 20

func (s *spool) Write(p []byte) (int, error) {
	n, _ := s.mem.Write(p)
	if s.mem.Len() < spoolInMemory || s.open == nil {
		return n, nil
	}
	if s.file == nil {
		f, err := s.open()
		if err != nil {
			return 0, err
		}
		s.file = f
	}
	if _, err := s.mem.WriteTo(s.file); err != nil {
		return 0, err
	}
	return n, nil
}

// copyTo writes everything to w, once.
func (s *spool) copyTo(w io.Writer) error {
	if s.file != nil {
		if _, err := s.file.Seek(0, io.SeekStart); err != nil {
			return err
		}
		if _, err := io.Copy(w, s.file); err != nil {
			return err
		}
	}
	_, err := s.mem.WriteTo(w)
	return err
}
