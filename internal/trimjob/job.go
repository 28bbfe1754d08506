package trimjob

import (
	"example.com/longpoint/measure"
	"example.com/longpoint/stock"
)

// Unit is the unit of a job's lengths: a sixteenth of an inch.
const Unit = measure.Inch / 16

// Unlimited is an unlimited Supply.
const Unlimited = -1

// Job is one stock job. All lengths are in Units, all prices in cents.
type Job struct {
	Name     string   `json:"name"`
	Class    string   `json:"class"`
	Seed     uint64   `json:"seed"`
	Unit     string   `json:"unit"`     // always "1/16 in"
	Currency string   `json:"currency"` // always "cents"
	Kerf     int64    `json:"kerf"`
	Stock    []Source `json:"stock"`   // to buy, by increasing length
	Offcuts  []Source `json:"offcuts"` // on the rack, by decreasing length: free and limited
	Pieces   []Want   `json:"pieces"`  // by decreasing length, all different
}

// Source is an available stick length.
type Source struct {
	Length int64 `json:"length"`
	Price  int64 `json:"price"`  // per stick
	Supply int64 `json:"supply"` // number, or Unlimited
}

// Want is a length and the wanted number of its pieces.
type Want struct {
	Length int64 `json:"length"`
	Demand int64 `json:"demand"`
}

// Sticks returns the available sticks: the stock first, then the rack. A length without supply
// is omitted, since a stick's Limit of 0 would mean no limit.
func (j Job) Sticks() []stock.Stick {
	var out []stock.Stick
	for _, list := range [][]Source{j.Stock, j.Offcuts} {
		for _, s := range list {
			if s.Supply == 0 {
				continue
			}
			out = append(out, stock.Stick{
				Length: measure.Length(s.Length) * Unit,
				Price:  s.Price,
				Limit:  int(max(s.Supply, 0)),
				Rack:   s.Price == 0,
			})
		}
	}
	return out
}

// Wanted returns the wanted pieces.
func (j Job) Wanted() []stock.Piece {
	out := make([]stock.Piece, len(j.Pieces))
	for i, p := range j.Pieces {
		out[i] = stock.Piece{Length: measure.Length(p.Length) * Unit, Quantity: int(p.Demand)}
	}
	return out
}

// SawKerf returns the kerf as a length.
func (j Job) SawKerf() measure.Length { return measure.Length(j.Kerf) * Unit }

// Count returns the total number of wanted pieces.
func (j Job) Count() int64 {
	var n int64
	for _, p := range j.Pieces {
		n += p.Demand
	}
	return n
}
