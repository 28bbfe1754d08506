//go:build unix

package records

import (
	"testing"

	"example.com/longpoint/internal/postgres"
)

// The server crashes twice while two shops work and one of them was killed.
func TestServerCrashes(t *testing.T) {
	c := postgres.Start(t)
	twoShops(t, c.Database(t, "shops"), func() { c.Restart(t) })
}
