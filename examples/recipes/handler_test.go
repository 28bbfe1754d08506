package recipes_test

import (
	"errors"
	"fmt"
	"io"
	"net/http"
	"net/http/httptest"
	"strings"

	"example.com/longpoint/measure"
	"example.com/longpoint/optimize"
	"example.com/longpoint/optimize/cutsheet"
)

// answer reads a problem and writes its cut sheet, or why there is none.
func answer(w http.ResponseWriter, r *http.Request) {
	body, err := io.ReadAll(http.MaxBytesReader(w, r.Body, 1<<20))
	if err != nil {
		http.Error(w, "at most a megabyte", http.StatusRequestEntityTooLarge)
		return
	}
	var job optimize.Problem
	if err := measure.UnmarshalStrict(body, &job); err != nil {
		http.Error(w, err.Error(), http.StatusBadRequest)
		return
	}
	// The request's context ends the search if the client goes away, Work if it takes too long.
	plan, err := optimize.Solve(r.Context(), job, &optimize.Options{Work: 100_000_000})
	if short := (*optimize.InfeasibleError)(nil); errors.As(err, &short) {
		http.Error(w, err.Error(), http.StatusUnprocessableEntity)
		return
	}
	if err != nil { // a field that makes no sense
		http.Error(w, err.Error(), http.StatusBadRequest)
		return
	}
	sheet, err := cutsheet.New(r.Context(), job, plan, &cutsheet.Options{Title: "Coat rails"})
	if err != nil {
		http.Error(w, err.Error(), http.StatusInternalServerError)
		return
	}
	w.Header().Set("Content-Type", "text/plain; charset=utf-8")
	_ = sheet.WriteText(w) // an error means that the client is gone
}

func Example_handler() {
	for _, body := range []string{
		`{"sticks": [{"length": "12ft", "price": 1908}], "pieces": [{"label": "coat rail", "length": "41-1/2in", "quantity": 7}], "kerf": "1/8in"}`,
		`{"sticks": [{"length": "12ft", "price": 1908}], "pieces": [{"label": "coat rail", "length": "41-1/2 cubits"}]}`,
		`{"sticks": [{"length": "12ft", "price": 1908}], "pieces": [{"label": "coat rail", "length": "13ft"}]}`,
	} {
		w := httptest.NewRecorder()
		answer(w, httptest.NewRequest("POST", "/plan", strings.NewReader(body)))
		first, _, _ := strings.Cut(w.Body.String(), "\n")
		fmt.Println(w.Code, first)
	}
	// Output:
	// 200 Coat rails
	// 400 pieces[0].length is "41-1/2 cubits", want a length, such as "7ft 4-3/4in": measure: length "41-1/2 cubits": missing or unknown unit at "cubits", byte 7: not a unit of this quantity; write a length such as 7' 4-3/4", 88.75in or 2253mm
	// 422 optimize: pieces[0] ("coat rail") is 13' long, the longest usable length is 12' (sticks[0]), short by 1'
}
