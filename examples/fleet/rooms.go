package main

import (
	"encoding/json"
	"fmt"
	"math/rand/v2"

	"example.com/longpoint/measure"
	"example.com/longpoint/optimize"
	"example.com/longpoint/stock"
)

// made makes up the n-th job: a room of a schoolhouse that becomes a workshop, and one kind of
// its trim. The same number gives the same job.
func made(n int) (cutJob, error) {
	chance := rand.New(rand.NewPCG(1924, uint64(n)))
	rooms := []string{"classroom", "cloakroom", "corridor", "teacher's room"}
	room, building := rooms[n%len(rooms)], 1+n/(3*len(rooms))
	trims := []struct {
		name  string
		parts func(*rand.Rand) []stock.Piece
	}{{"base", walls}, {"casing", openings}, {"picture rail", walls}}
	trim := trims[n/len(rooms)%len(trims)]
	problem, err := json.Marshal(optimize.Problem{
		Kerf: measure.Inch / 8,
		Sticks: []stock.Stick{
			{Length: 8 * measure.Foot, Price: 1264},
			{Length: 12 * measure.Foot, Price: 1908},
			{Length: 16 * measure.Foot, Price: 2592},
		},
		Pieces: trim.parts(chance),
	})
	return cutJob{Name: fmt.Sprintf("schoolhouse %d, %s, %s", building, room, trim.name), Problem: problem}, err
}

// inches returns a length in a range, to the nearest sixteenth.
func inches(chance *rand.Rand, from, to int) measure.Length {
	return measure.Inch * measure.Length(from*16+chance.IntN((to-from)*16)) / 16
}

// walls returns the stretches of wall between corners and doors.
func walls(chance *rand.Rand) (pieces []stock.Piece) {
	for _, side := range []string{"north", "east", "south", "west"} {
		for k := range 1 + chance.IntN(4) {
			pieces = append(pieces, stock.Piece{Label: fmt.Sprintf("%s wall, %d", side, k+1), Length: inches(chance, 9, 170)})
		}
	}
	return pieces
}

// openings returns doors, with two legs and a head on either side, and windows, with one side.
func openings(chance *rand.Rand) (pieces []stock.Piece) {
	for k := range 2 + chance.IntN(5) {
		name, sides := fmt.Sprintf("window %d", k+1), 1
		leg := inches(chance, 58, 74)
		if k < 2 {
			name, sides, leg = fmt.Sprintf("door %d", k+1), 2, inches(chance, 81, 86)
		}
		pieces = append(pieces,
			stock.Piece{Label: name + ", leg", Length: leg, Quantity: 2 * sides},
			stock.Piece{Label: name + ", head", Length: inches(chance, 32, 48), Quantity: sides})
	}
	return pieces
}

// whole makes up the trim of a whole building, whose proof takes longer than anyone waits.
func whole(n int) (cutJob, error) {
	chance := rand.New(rand.NewPCG(1927, uint64(n)))
	p := optimize.Problem{Kerf: measure.Inch / 8, Sticks: []stock.Stick{
		{Length: 8 * measure.Foot, Price: 1264, Limit: 100},
		{Length: 12 * measure.Foot, Price: 1908, Limit: 120},
		{Length: 16 * measure.Foot, Price: 2592},
	}}
	for k := range 600 {
		p.Pieces = append(p.Pieces, stock.Piece{
			Label:    fmt.Sprintf("stretch %d", k+1),
			Length:   inches(chance, 10, 160) + measure.Length(chance.IntN(4))*measure.Inch/64,
			Quantity: 1 + chance.IntN(9),
		})
	}
	problem, err := json.Marshal(p)
	return cutJob{Name: fmt.Sprintf("schoolhouse %d, all of the base", n), Problem: problem}, err
}
