package cutsheet_test

import (
	"errors"
	"fmt"
	"strings"

	"example.com/longpoint/optimize/cutsheet"
)

// JSON that is not a cut sheet, and a cut sheet of a later version.
func ExampleFormatError() {
	for _, text := range []string{"2 x 8 ft", `{"format":"longpoint cut sheet","version":99}`} {
		_, _, _, err := cutsheet.ReadJSON(strings.NewReader(text))
		var format *cutsheet.FormatError
		fmt.Println(errors.As(err, &format), err)
	}
	// Output:
	// true cutsheet: the text is no JSON object with a format and a version: invalid character 'x' after top-level value
	// false cutsheet: version is 99: want 1 to 3
}
