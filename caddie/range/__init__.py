"""How a bag is measured: tables read, sessions, fits, gapping, a bag from a handicap, the card."""
