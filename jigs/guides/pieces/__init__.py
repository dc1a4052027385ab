"""What several guides show: a ring's gauge, blanks to write in."""
