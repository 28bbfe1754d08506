package labor

import "strconv"

// indexed returns the path of an element.
func indexed(field string, i int) string { return field + "[" + strconv.Itoa(i) + "]" }
