package write

import (
	"errors"
	"io/fs"
	"os"
	"path/filepath"
	"runtime"
	"syscall"
	"time"
)

// disk is what is done to the file system. The program has one (realDisk); tests let single steps fail.
type disk struct {
	lstat     func(name string) (os.FileInfo, error)
	readDir   func(name string) ([]os.DirEntry, error)
	readFile  func(name string) ([]byte, error)
	mkdirTemp func(dir, pattern string) (string, error)
	writeFile func(name string, data []byte) error // written and on the disk when it returns
	syncDir   func(name string) error
	rename    func(from, to string) error
	remove    func(name string) error // one file or an empty folder
	removeAll func(name string) error // a folder of ours
	chmod     func(name string, mode os.FileMode) error
	lock      func(name string) (release func(), err error) // errHeld when another run has it
}

func realDisk() disk {
	return disk{
		lstat: os.Lstat, readDir: os.ReadDir, readFile: os.ReadFile, rename: renamePatiently, remove: os.Remove,
		removeAll: os.RemoveAll, chmod: os.Chmod, mkdirTemp: os.MkdirTemp, writeFile: writeSynced, syncDir: syncDir,
		lock: func(name string) (func(), error) { return lockPatiently(name, lockTries, lockPause) },
	}
}

// renamePatiently renames. On Windows a file that somebody looks into keeps its folder from being renamed; what looks into
// new files by itself, such as a virus scanner, is done in a moment.
func renamePatiently(from, to string) error {
	const tries, pause, sharingViolation = 20, 100 * time.Millisecond, syscall.Errno(32)
	err := os.Rename(from, to)
	for i := 1; i < tries && runtime.GOOS == "windows" && (errors.Is(err, fs.ErrPermission) || errors.Is(err, sharingViolation)); i++ {
		time.Sleep(pause)
		err = os.Rename(from, to)
	}
	return err
}

func writeSynced(name string, data []byte) (err error) {
	f, err := os.OpenFile(name, os.O_WRONLY|os.O_CREATE|os.O_EXCL, 0o644)
	if err != nil {
		return err
	}
	defer func() {
		if e := f.Close(); err == nil {
			err = e
		}
	}()
	if _, err = f.Write(data); err != nil {
		return err
	}
	return f.Sync()
}

// syncDir makes the names in a folder last. Windows has no such call, and some file systems refuse it; the files
// themselves are on the disk already.
func syncDir(name string) error {
	if runtime.GOOS == "windows" {
		return nil
	}
	f, err := os.Open(filepath.Clean(name))
	if err != nil {
		return err
	}
	_ = f.Sync()
	return f.Close()
}
