package trimjob

import (
	"example.com/longpoint/measure"
	"example.com/longpoint/stock"
)

// Unit is what a job's lengths count: a sixteenth of an inch.
const Unit = measure.Inch / 16

// Unlimited is a Supply without end.
const Unlimited = -1

// Job is one stock job. All lengths are in Units, all prices in cents.
type Job struct {
	Name     string   `json:"name"`
	Class    string   `json:"class"`
	Seed     uint64   `json:"seed"`
	Unit     string   `json:"unit"`     // always "1/16 in"
	Currency string   `json:"currency"` // always "cents"
	Kerf     int64    `json:"kerf"`
	Stock    []Source `json:"stock"`   // to buy, by rising length
	Offcuts  []Source `json:"offcuts"` // on the rack, by falling length: free and limited
	Pieces   []Want   `json:"pieces"`  // by falling length, all different
}

// Source is a stick length that can be had.
type Source struct {
	Length int64 `json:"length"`
	Price  int64 `json:"price"`  // per stick
	Supply int64 `json:"supply"` // how many, or Unlimited
}

// Want is a length and how many pieces of it are wanted.
type Want struct {
	Length int64 `json:"length"`
	Demand int64 `json:"demand"`
}

// Sticks returns what can be had: the stock first, then the rack. A length of
// which none is left is not among them, since a stick's Limit of 0 would say
// that there is no limit.
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

// Wanted returns the pieces.
func (j Job) Wanted() []stock.Piece {
	out := make([]stock.Piece, len(j.Pieces))
	for i, p := range j.Pieces {
		out[i] = stock.Piece{Length: measure.Length(p.Length) * Unit, Quantity: int(p.Demand)}
	}
	return out
}

// SawKerf returns the kerf as a length.
func (j Job) SawKerf() measure.Length { return measure.Length(j.Kerf) * Unit }

// Count returns how many pieces are wanted in all.
func (j Job) Count() int64 {
	var n int64
	for _, p := range j.Pieces {
		n += p.Demand
	}
	return n
}
