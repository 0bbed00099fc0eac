SELECT uid, start, finish, words FROM away ORDER BY start, uid
