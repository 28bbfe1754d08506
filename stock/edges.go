package stock

// Edges returns the number of edges along which painted trim is caulked: base at the top
// (add one if it is sealed to the floor), shoe along the base, a picture rail only below,
// since hooks hang over its top, casing at jamb and wall, crown at wall and ceiling, stool
// and apron along the wall, backband at the wall. A cap is caulked at its top, a frieze and
// a band below, a soffit at its outer edge, a bed molding and the members of paneling along
// both edges. Backing and the panels between stiles and rails are not caulked. Common
// practice, no source.
func (r Role) Edges() int {
	switch r {
	case RoleChairRail, RoleCasing, RoleCrown, RolePlinth, RoleBed, RoleBlock, RolePanelMold, RoleStile, RoleRail, RoleBatten:
		return 2
	case RoleBacking, RolePanel:
		return 0
	}
	return 1
}
