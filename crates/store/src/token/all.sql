SELECT name, made, last_sent FROM token ORDER BY name
