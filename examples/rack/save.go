package main

import (
	"encoding/json"
	"errors"
	"io"
	"os"
	"path/filepath"

	"example.com/longpoint/stock"
)

// save writes a file atomically: at every moment it has either the old or the new contents. It
// writes a new file in the same directory, syncs it, and then renames it.
func save(file string, write func(io.Writer) error) (err error) {
	dir := filepath.Dir(file)
	f, err := os.CreateTemp(dir, filepath.Base(file)+".new-*")
	if err != nil {
		return err
	}
	defer func() {
		if err != nil {
			os.Remove(f.Name())
		}
	}()
	if err = errors.Join(write(f), f.Sync(), f.Close()); err != nil {
		return err
	}
	if old, err := os.Stat(file); err == nil {
		// A temporary file is private to its owner; the rack may be shared.
		if err := os.Chmod(f.Name(), old.Mode().Perm()); err != nil {
			return err
		}
	}
	if err = os.Rename(f.Name(), file); err != nil {
		return err
	}
	// The name is in the directory, which has its own cache. Some systems cannot sync it, and
	// do not need to.
	if d, err := os.Open(dir); err == nil {
		d.Sync()
		d.Close()
	}
	return nil
}

func saveRack(file string, r stock.Rack) error {
	return save(file, func(w io.Writer) error {
		e := json.NewEncoder(w)
		e.SetIndent("", "  ")
		return e.Encode(r)
	})
}
