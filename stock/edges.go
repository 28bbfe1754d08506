package stock

// Edges returns along how many of its edges painted trim is caulked: base at the top (add
// one if it is sealed to the floor), shoe where it meets the base, a picture rail below
// only, since hooks hang over its top, casing at jamb and wall, crown at wall and ceiling,
// stool and apron where they meet the wall, backband at the wall. Common practice, no
// source.
func (r Role) Edges() int {
	switch r {
	case RoleChairRail, RoleCasing, RoleCrown, RolePlinth:
		return 2
	}
	return 1
}
