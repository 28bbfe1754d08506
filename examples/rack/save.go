package main

import (
	"encoding/json"
	"errors"
	"io"
	"os"
	"path/filepath"

	"example.com/longpoint/stock"
)

// save writes a file so that at every moment either the old content is there or
// the new: into a new file in the same directory, down to the disk, and only
// then under the name.
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
		// A temporary file is for its owner only; the rack may be for others too.
		if err := os.Chmod(f.Name(), old.Mode().Perm()); err != nil {
			return err
		}
	}
	if err = os.Rename(f.Name(), file); err != nil {
		return err
	}
	// The name is in the directory, which has a cache of its own. Some systems
	// cannot do this, and do not need it.
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
