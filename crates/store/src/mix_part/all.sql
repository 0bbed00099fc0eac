SELECT mix, component, parts FROM mix_part ORDER BY mix, rowid
