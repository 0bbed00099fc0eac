//! A place and its weather: hours from daily records, day length and light, shelters, invented years.
