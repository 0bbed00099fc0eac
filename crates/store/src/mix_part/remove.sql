DELETE FROM mix_part WHERE mix = ?1
