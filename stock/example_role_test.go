package stock_test

import (
	"fmt"

	"example.com/longpoint/measure"
	"example.com/longpoint/stock"
)

// The names of the members of built-up trim, of paneling and of a stair, and the number of
// edges along which each is caulked.
func ExampleRole() {
	for _, of := range []struct {
		what  string
		roles []stock.Role
	}{
		{"base", []stock.Role{stock.RoleBase, stock.RoleCap, stock.RoleShoe}},
		{"cornice", []stock.Role{stock.RoleBacking, stock.RoleFrieze, stock.RoleSoffit, stock.RoleBed, stock.RoleCrown}},
		{"head of a door", []stock.Role{stock.RoleBlock, stock.RoleFillet, stock.RoleBand, stock.RoleExtension}},
		{"paneling", []stock.Role{stock.RoleStile, stock.RoleRail, stock.RolePanel, stock.RolePanelMold, stock.RoleBatten}},
		{"stair", []stock.Role{stock.RoleSkirt}},
	} {
		fmt.Printf("%s:", of.what)
		for _, r := range of.roles {
			fmt.Printf(" %v %d", r, r.Edges())
		}
		fmt.Println()
	}
	// Output:
	// base: base 1 cap 1 shoe 1
	// cornice: backing 0 frieze 1 soffit 1 bed molding 2 crown 2
	// head of a door: block 2 fillet 1 band 1 jamb extension 1
	// paneling: stile 2 rail 2 panel 0 panel molding 2 batten 2
	// stair: skirt 1
}

// Sprung trim between wall and ceiling projects less than its width: a bed molding of 2 1/2 in
// sprung at 45°, beside a band and a soffit of the same section.
func ExampleRole_Sprung() {
	p := stock.Profile{Name: "S4S", Thickness: 3 * measure.Inch / 4, Width: 5 * measure.Inch / 2, Spring: 45 * measure.Degree}
	for _, p.Role = range []stock.Role{stock.RoleBed, stock.RoleBand, stock.RoleSoffit} {
		fmt.Printf("%-11v sprung %-5v projects %-15v drops %v\n", p.Role, p.Role.Sprung(), p.Projection().About(), p.Drop().About())
	}
	// Output:
	// bed molding sprung true  projects about 1-3/4"    drops about 1-3/4"
	// band        sprung false projects 3/4"            drops 2-1/2"
	// soffit      sprung false projects 2-1/2"          drops 3/4"
}
