package write

import (
	"crypto/sha256"
	"encoding/hex"
	"errors"
	"os"
	"runtime"
	"syscall"
	"time"

	"github.com/gofrs/flock"
)

// lockPrefix begins the name of the file that is locked while papers are put in place.
const lockPrefix = ".drytally-lock-"

// errHeld says that another run holds the lock.
var errHeld = errors.New("held by another run")

// How long a run waits for another one to finish. Putting papers in place takes parts of a second.
const (
	lockTries = 100
	lockPause = 100 * time.Millisecond
)

// lockPatiently takes the lock on a file, which it makes, and waits a while for whoever holds it. The lock is the operating
// system's: it ends with the process that holds it, however that ends, so a file left by a killed run keeps nobody out and no
// clock is asked how old it is. release removes the file.
func lockPatiently(name string, tries int, pause time.Duration) (release func(), err error) {
	for i := 1; ; i++ {
		release, err = tryLock(name)
		if !errors.Is(err, errHeld) || i >= tries {
			return release, err
		}
		time.Sleep(pause)
	}
}

func tryLock(name string) (release func(), err error) {
	l := flock.New(name, flock.SetPermissions(0o666)) // less the process's mask: another user's run must be able to open it
	ok, err := l.TryLock()
	switch {
	case err != nil && (errors.Is(err, errors.ErrUnsupported) || errors.Is(err, syscall.ENOLCK)):
		// A file system without locks. Runs at once can then make one another fail, but not leave half a set: every
		// change of the papers' folder is still one rename.
		_ = l.Close()
		return func() { _ = os.Remove(name) }, nil
	case err != nil:
		_ = l.Close()
		return nil, err
	case !ok:
		_ = l.Close()
		return nil, errHeld
	}
	if runtime.GOOS == "windows" {
		// An open file can't be removed there: nobody can have opened it when the removal works.
		return func() { _ = l.Close(); _ = os.Remove(name) }, nil
	}
	// Whoever held it before removed the file: then this lock is on a file without a name, and keeps nobody out.
	mine, err := l.Stat()
	there, errThere := os.Lstat(name)
	if err != nil || errThere != nil || !os.SameFile(mine, there) {
		_ = l.Close()
		return nil, errHeld
	}
	return func() { _ = os.Remove(name); _ = l.Close() }, nil
}

// hiddenName names a file or folder of ours beside the one for papers. File systems allow 255 bytes: a long base is cut and
// told from others by a mark made of the whole.
func hiddenName(prefix, base string) string {
	const most = 180 // leaves room for the prefix and the digits of a folder being written
	if len(base) > most {
		sum := sha256.Sum256([]byte(base))
		cut := most
		for cut > 0 && base[cut]&0xC0 == 0x80 { // not within a character
			cut--
		}
		base = base[:cut] + "-" + hex.EncodeToString(sum[:8])
	}
	return prefix + base
}
