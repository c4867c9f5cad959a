package snapshot

import (
	"crypto/ed25519"
	"errors"
	"fmt"
	"io"
	"os"
	"path/filepath"
	"runtime"

	"swarf/domain/access"
	"swarf/domain/catalog"
)

// Write puts a file in its place as a whole: whoever opens the path finds the old one or
// the new one, and after a crash too.
//
// Errors: those of the file system.
func Write(path string, file []byte) (err error) {
	folder, name := filepath.Split(path)
	if folder == "" {
		folder = "."
	}
	draft, err := os.CreateTemp(folder, "."+name+".*")
	if err != nil {
		return err
	}
	defer func() {
		if err != nil {
			err = errors.Join(err, os.Remove(draft.Name()))
		}
	}()
	_, err = draft.Write(file)
	if err == nil {
		err = draft.Chmod(0o644)
	}
	if err == nil {
		err = draft.Sync()
	}
	if err = errors.Join(err, draft.Close()); err != nil {
		return err
	}
	if err = os.Rename(draft.Name(), path); err != nil {
		return err
	}
	return syncFolder(folder)
}

// syncFolder makes a new name last; Windows does that by itself, and cannot be asked to.
func syncFolder(folder string) error {
	if runtime.GOOS == "windows" {
		return nil
	}
	f, err := os.Open(folder) // #nosec G304 -- of the file that the settings name
	if err != nil {
		return err
	}
	return errors.Join(f.Sync(), f.Close())
}

// Read reads a file as Decode does; one that is too large is not taken into memory.
//
// Errors: those of the file system, fs.ErrNotExist among them; as Decode.
func Read(path string, trust ed25519.PublicKey) (*catalog.Data, Header, error) {
	data, _, header, err := ReadKept(path, trust)
	return data, header, err
}

// ReadKept is Read with who may ask, as Options.Callers says: nil where the file has none.
func ReadKept(path string, trust ed25519.PublicKey) (*catalog.Data, *access.Ring, Header, error) {
	f, err := os.Open(path) // #nosec G304 -- the file that the settings name
	if err != nil {
		return nil, nil, Header{}, err
	}
	defer f.Close()
	file, err := io.ReadAll(io.LimitReader(f, mostBytes+1))
	if err != nil {
		return nil, nil, Header{}, err
	}
	all, header, err := unpack(file, trust)
	if err != nil {
		return nil, nil, header, fmt.Errorf("%s: %w", path, err)
	}
	var callers *access.Ring
	if all.Callers != nil {
		callers = access.NewRing(*all.Callers)
	}
	return &all.Data, callers, header, nil
}
