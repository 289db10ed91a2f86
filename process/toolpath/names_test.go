package toolpath

// Names of origins and meanings, for what the tests print.

// String names the meaning in words.
func (m EMeaning) String() string {
	switch m {
	case EFilament:
		return "filament length"
	case EVolume:
		return "volume"
	case ERevolution:
		return "revolutions"
	case EMixed:
		return "filament length and volume in turn"
	}
	return "unsaid"
}

// String names the origin in words.
func (o Origin) String() string {
	switch o {
	case FromFile:
		return "the file"
	case FromOption:
		return "option"
	}
	return "usual default"
}
