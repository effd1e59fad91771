package store

import (
	"crypto/sha256"
	"encoding/hex"
	"errors"
	"fmt"
	"io"
	"io/fs"
	"os"
	"path/filepath"
	"strings"
)

// checksumEnd ends the name of the file that holds a backup's checksum. It is a
// file of its own, as sha256sum -c reads it, so that a backup can be looked at
// wherever it lies, without this program.
const checksumEnd = ".sha256"

// checksum returns the SHA-256 of the file, in hex.
func checksum(path string) (string, error) {
	file, err := os.Open(path)
	if err != nil {
		return "", err
	}
	defer file.Close()
	sum := sha256.New()
	if _, err := io.Copy(sum, file); err != nil {
		return "", err
	}
	return hex.EncodeToString(sum.Sum(nil)), nil
}

// escapes is how sha256sum writes a name that would break the line, which it then
// begins with a backslash.
var escapes = strings.NewReplacer(`\`, `\\`, "\n", `\n`, "\r", `\r`)

func putChecksum(backup, sum string) error {
	name := filepath.Base(backup)
	line := sum + "  " + name + "\n"
	if escaped := escapes.Replace(name); escaped != name {
		line = `\` + sum + "  " + escaped + "\n"
	}
	return writeWhole(backup+checksumEnd, []byte(line))
}

func forgetChecksum(backup string) error {
	err := os.Remove(backup + checksumEnd)
	if errors.Is(err, fs.ErrNotExist) {
		return nil
	}
	return errors.Join(err, plainFiles.flush(filepath.Dir(backup)))
}

// checkChecksum refuses a backup that is not what its checksum is of. Its name may
// be another than it was. A backup without a checksum is ErrNoChecksum.
func checkChecksum(backup string) error {
	line, err := os.ReadFile(backup + checksumEnd)
	if errors.Is(err, fs.ErrNotExist) {
		return fmt.Errorf("%w: there is no %s", ErrNoChecksum, backup+checksumEnd)
	}
	if err != nil {
		return fmt.Errorf("read the checksum: %w", err)
	}
	want, _, _ := strings.Cut(strings.TrimPrefix(string(line), `\`), " ")
	got, err := checksum(backup)
	if err != nil {
		return err
	}
	if !strings.EqualFold(got, want) {
		return fmt.Errorf("the backup does not match its checksum in %s: it was damaged or changed since, take another", backup+checksumEnd)
	}
	return nil
}
