package cutsheet_test

import (
	"fmt"
	"regexp"
	"strings"
	"testing"

	"example.com/longpoint/measure"
	"example.com/longpoint/optimize"
	"example.com/longpoint/stock"
)

// The name of a room is in the head of its table, which paper repeats at the top of each page and
// column, so that the second page of a room names it too.
func TestRoomsAreNamedOnEveryPage(t *testing.T) {
	p := optimize.Problem{Sticks: []stock.Stick{{Length: 12 * measure.Foot}}}
	var plan [][]int
	for i := range 90 {
		p.Pieces = append(p.Pieces, stock.Piece{Label: fmt.Sprint("rail ", i), Length: ft(8, 0, 0), Room: []string{"classroom", "cloakroom", ""}[i/40]})
		plan = append(plan, []int{i})
	}
	page := render(t, cutAs(t, p, nil, plan...), renderings[2])
	var rooms []string
	for _, m := range regexp.MustCompile(`<caption><bdi>(.*?)</bdi></caption>.*?\s*<thead><tr class="again"><th scope="colgroup" colspan="4"><bdi>(.*?)</bdi>`).FindAllStringSubmatch(page, -1) {
		if m[1] != m[2] {
			t.Errorf("%q is called %q on its other pages", m[1], m[2])
		}
		rooms = append(rooms, m[1])
	}
	if got := strings.Join(rooms, "; "); got != "classroom; cloakroom; No room named" {
		t.Errorf("rooms: %s", got)
	}
	_, print, _ := strings.Cut(page, "@media print")
	if print, _, _ = strings.Cut(print, "@media"); !strings.Contains(print, ".room thead .again { display: table-row; }") || !strings.Contains(print, ".room caption") {
		t.Error("paper does not repeat the names of rooms")
	}
}
