INSERT INTO act (words) VALUES (?1)
