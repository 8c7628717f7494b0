package ingest

import (
	"crypto/sha256"
	"encoding/hex"
	"errors"
	"fmt"
	"io"
	"io/fs"
	"os"

	"drytally/compute"
	"drytally/ingest/sheet"
)

// readFile reads a source file once, from one opening, so that what is hashed is what was read. Of a file that is larger
// than any workbook it reads just enough for Open to say so; what is no plain file (a pipe would never end) is refused.
func readFile(path string) ([]byte, error) {
	f, err := openPlain(path)
	if err != nil {
		return nil, err
	}
	defer f.Close()
	data, err := io.ReadAll(io.LimitReader(f, sheet.MaxFileBytes+1))
	if err != nil {
		return nil, fmt.Errorf("%q can't be read: %w", path, Cause(err))
	}
	return data, nil
}

// openPlain opens a file to read. It looks before it opens: opening a pipe waits for somebody to write into it.
func openPlain(path string) (*os.File, error) {
	info, err := os.Stat(path)
	if err != nil {
		return nil, fmt.Errorf("%q can't be read: %w", path, Cause(err))
	}
	if !info.Mode().IsRegular() {
		what := "it is no plain file"
		if info.IsDir() {
			what = "it is a folder"
		}
		return nil, fmt.Errorf("%q can't be read: %s", path, what)
	}
	f, err := os.Open(path)
	if err != nil {
		return nil, fmt.Errorf("%q can't be read: %w", path, Cause(err))
	}
	return f, nil
}

// Cause is what is wrong with a file, without its path, which the message names already.
func Cause(err error) error {
	var pe *fs.PathError
	if errors.As(err, &pe) {
		return pe.Err
	}
	return err
}

// Sum gives one sum (SHA-256, hexadecimal) over the names and the content of a set's files, as they stand now.
func (s Set) Sum() (string, error) {
	var files []compute.InputFile
	for _, path := range s.Paths {
		f, err := openPlain(path)
		if err != nil {
			return "", err
		}
		h := sha256.New()
		_, err = io.Copy(h, io.LimitReader(f, sheet.MaxFileBytes+1))
		f.Close()
		if err != nil {
			return "", fmt.Errorf("%q can't be read: %w", path, Cause(err))
		}
		files = append(files, compute.InputFile{Name: fileName(path), SHA256: hex.EncodeToString(h.Sum(nil))})
	}
	return SumOf(files), nil
}

// SumOf gives the sum of files that were read: that of Set.Sum as long as none of them changed.
func SumOf(files []compute.InputFile) string {
	h := sha256.New()
	for _, f := range files {
		fmt.Fprintf(h, "%q %s\n", f.Name, f.SHA256)
	}
	return hex.EncodeToString(h.Sum(nil))
}
