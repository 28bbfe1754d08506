package takeoff

import "example.com/longpoint/stock"

// cutAs returns the profile as it is cut, and whether it is stone or tile: stone and tile are
// butted in inside corners and spliced square, whatever the profile says of copes and scarfs.
// They are identified by their material, or by the joint between their strips, which no other
// trim has.
func (o Options) cutAs(p stock.Profile) (cut stock.Profile, stone bool) {
	m, known := o.Catalog.Material(p.Material)
	mineral := known && m.Class.Mineral()
	if mineral {
		p.ButtSpliced = true
	}
	stone = mineral || p.StripJoint > 0
	if stone && p.Inside == stock.JointCope {
		p.Inside = stock.JointButt
	}
	return p, stone
}
