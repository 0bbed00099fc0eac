SELECT name, pk FROM pragma_table_info(?1) ORDER BY cid
