SELECT component, parts FROM mix_part WHERE mix = ?1 ORDER BY rowid
