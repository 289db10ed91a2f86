package checkrow

import (
	"fmt"
	"os"
)

// ReadFile reads the check rows of one file.
func ReadFile(path string) ([]Row, error) {
	f, err := os.Open(path)
	if err != nil {
		return nil, fmt.Errorf("check rows: %w", err)
	}
	defer f.Close()
	rows, err := Read(f)
	if err != nil {
		return nil, fmt.Errorf("%s: %w", path, err)
	}
	return rows, nil
}
