SELECT tree, 'the wire put on limb ' || limb || ' on ' || put_on FROM wire WHERE photo = ?1
UNION ALL
SELECT tree, 'the repot of ' || day FROM repot WHERE photo = ?1
