SELECT morning, evening FROM round
