package write

import (
	"errors"
	"fmt"
	"io/fs"
	"os"
	"path/filepath"
)

// One writes one file whole or not at all: into a new file beside it first, which then takes its name. A file that stands
// there already is left alone, and the error says so, unless replace is set; what is no file is never replaced.
func One(path string, data []byte, replace bool) (err error) {
	taken := func() error {
		return fmt.Errorf("%q is there already and was left as it is; choose another name, or add -force to replace it", path)
	}
	switch info, err := os.Lstat(path); {
	case errors.Is(err, fs.ErrNotExist):
	case err != nil:
		return fmt.Errorf("%q can't be looked at: %w", path, bare(err))
	case !info.Mode().IsRegular():
		return fmt.Errorf("%q is no file; choose another name", path)
	case !replace:
		return taken()
	}
	stage, err := os.CreateTemp(filepath.Dir(path), stagePrefix+"*")
	if err != nil {
		return fmt.Errorf("%q can't be written: %w", path, bare(err))
	}
	name := stage.Name()
	defer func() {
		if e := os.Remove(name); err == nil && e != nil && !errors.Is(e, fs.ErrNotExist) {
			err = fmt.Errorf("%q is written, but %q beside it can't be removed: %w", path, name, bare(e))
		}
	}()
	_, err = stage.Write(data)
	if err == nil {
		err = stage.Chmod(0o644)
	}
	if err == nil {
		err = stage.Sync()
	}
	if e := stage.Close(); err == nil {
		err = e
	}
	if err != nil {
		return fmt.Errorf("%q can't be written: %w", path, bare(err))
	}
	if !replace {
		// A link fails where a file has come up in the meantime. Some file systems have none: there the look above must do.
		switch err := os.Link(name, path); {
		case err == nil:
			return syncDir(filepath.Dir(path))
		case errors.Is(err, fs.ErrExist):
			return taken()
		}
	}
	if err := os.Rename(name, path); err != nil {
		return fmt.Errorf("%q can't be written: %w", path, bare(err))
	}
	return syncDir(filepath.Dir(path))
}
