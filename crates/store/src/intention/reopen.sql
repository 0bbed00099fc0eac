UPDATE intention SET ended = NULL, ending = ''
WHERE tree = ?1 AND limb = ?2 AND ended = ?3 AND ending = ?4
    AND NOT EXISTS (SELECT 1 FROM intention AS other WHERE other.tree = ?1 AND other.limb = ?2 AND other.ended IS NULL)
