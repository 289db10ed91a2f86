package demo

import "io"

func writeRosette(w io.Writer) error {
	_, err := io.WriteString(w, "G1 X10 E10 F600\nG1 X20 E20\n")
	return err
}
