package main

import (
	"io"
	"net/http"
	"net/url"
	"strings"

	"example.com/longpoint/optimize/cutsheet"
)

// form is a format for the response to a job.
type form struct {
	media  string
	params string                                 // of the Content-Type, such as a charset
	write  func(*cutsheet.Sheet, io.Writer) error // the sheet

	proof bool // includes the proof, if requested
	lines bool // reports progress, each line a JSON object
	event bool // reports progress, as server-sent events
}

// streams reports whether the response includes progress.
func (f *form) streams() bool { return f.lines || f.event }

// forms are the formats for Accept; the first is the default.
var forms = []form{
	{media: "application/json", write: (*cutsheet.Sheet).WriteJSON, proof: true},
	{media: "text/html", params: "; charset=utf-8", write: (*cutsheet.Sheet).WriteHTML},
	{media: "text/plain", params: "; charset=utf-8", write: (*cutsheet.Sheet).WriteText},
	{media: "text/csv", params: "; charset=utf-8; header=present", write: (*cutsheet.Sheet).WriteCSV},
	{media: "image/svg+xml", write: (*cutsheet.Sheet).WriteSVG},
	{media: "text/event-stream", write: (*cutsheet.Sheet).WriteJSON, proof: true, event: true},
	{media: "application/x-ndjson", write: (*cutsheet.Sheet).WriteJSON, proof: true, lines: true},
}

// wants is the choice of a request.
type wants struct {
	form  *form
	proof bool // with the proof
}

// wanted parses the query, then the client's preferences. Unknown names are errors: a
// misspelled one would mean a missing proof.
func wanted(r *http.Request) (w wants, f *failure) {
	query := r.URL.RawQuery
	bad := func(field, value, want string) (wants, *failure) {
		return wants{}, &failure{status: http.StatusBadRequest, Kind: "query", Field: field, Value: value, Want: want}
	}
	values, err := url.ParseQuery(query)
	if err != nil {
		return bad("query", query, "names and values as a form writes them")
	}
	lines := false
	for _, x := range []struct {
		name, yes string
		to        *bool
	}{{"proof", "full", &w.proof}, {"progress", "lines", &lines}} {
		v := values[x.name]
		delete(values, x.name)
		switch {
		case len(v) == 0, len(v) == 1 && v[0] == "none":
		case len(v) == 1 && v[0] == x.yes:
			*x.to = true
		default:
			return bad(x.name, query, "none or "+x.yes+", once")
		}
	}
	if len(values) > 0 {
		return bad("query", query, "proof and progress, and nothing else")
	}
	can := forms
	if lines {
		can = forms[len(forms)-1:]
	}
	accept := r.Header.Values("Accept")
	if w.form = choose(accept, can); w.form == nil {
		return wants{}, notAcceptable(accept, can)
	}
	return w, nil
}

func notAcceptable(accept []string, can []form) *failure {
	var media []string
	for i := range can {
		media = append(media, can[i].media)
	}
	return &failure{
		status: http.StatusNotAcceptable, Kind: "accept", Field: "Accept",
		Value: strings.Join(accept, ", "), Want: strings.Join(media, ", "),
	}
}
