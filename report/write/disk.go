package write

import (
	"os"
	"path/filepath"
	"runtime"
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
}

func realDisk() disk {
	return disk{
		lstat: os.Lstat, readDir: os.ReadDir, readFile: os.ReadFile, rename: os.Rename, remove: os.Remove,
		removeAll: os.RemoveAll, chmod: os.Chmod, mkdirTemp: os.MkdirTemp, writeFile: writeSynced, syncDir: syncDir,
	}
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
