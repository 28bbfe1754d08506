package measure

// Quick is the reader of the usual spellings; false means undecided.
func Quick(s string) (Length, bool) { return quick(s) }

// ReadInFull reads s without it.
func ReadInFull(s string) (Length, error) {
	var t text
	v, ok := read(&t, s, lengths, Parser{})
	if !ok {
		return 0, t.err(lengths, s, Parser{})
	}
	return Length(v), nil
}
