package stock

// Edges returns along how many of its edges painted trim is caulked: base at the top (add
// one if it is sealed to the floor), shoe where it meets the base, a picture rail below
// only, since hooks hang over its top, casing at jamb and wall, crown at wall and ceiling,
// stool and apron where they meet the wall, backband at the wall. A cap is caulked at its
// top, a frieze and a band below, a soffit at its outer edge, a bed molding and the members of
// paneling along both edges. Backing and what stiles and rails hold are not. Common practice,
// no source.
func (r Role) Edges() int {
	switch r {
	case RoleChairRail, RoleCasing, RoleCrown, RolePlinth, RoleBed, RoleBlock, RolePanelMold, RoleStile, RoleRail, RoleBatten:
		return 2
	case RoleBacking, RolePanel:
		return 0
	}
	return 1
}
