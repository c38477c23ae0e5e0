package duskpeg.projections.ledger;

import duskpeg.core.ledger.Tiles;
import org.springframework.jdbc.core.simple.JdbcClient;

/** The tiles of one farm's tree in a table. */
public final class JdbcTiles implements Tiles.Store {

    private final JdbcClient jdbc;
    private final String farm;

    /**
     * @param jdbc the database
     * @param farm whose tree it is
     */
    public JdbcTiles(JdbcClient jdbc, String farm) {
        this.jdbc = jdbc;
        this.farm = farm;
    }

    /**
     * How many leaves the tree has. It is asked for in the order of the index, which H2 then reads from its end; for a
     * maximum it would read every leaf of the farm.
     */
    public long leaves() {
        return jdbc.sql("select leaf + 1 from ledger_leaf where farm = ? order by farm desc, leaf desc"
                        + " fetch first row only")
                .param(farm)
                .query(Long.class)
                .optional()
                .orElse(0L);
    }

    @Override
    public byte[] tile(int level, long index) {
        return jdbc.sql("select hashes from ledger_tile where farm = ? and tile_level = ? and tile_index = ?")
                .params(farm, level, index)
                .query((row, number) -> row.getBytes(1))
                .optional()
                .orElse(new byte[0]);
    }

    @Override
    public void keep(int level, long index, byte[] hashes) {
        int kept = jdbc.sql("update ledger_tile set hashes = ? where farm = ? and tile_level = ? and tile_index = ?")
                .params(hashes, farm, level, index)
                .update();
        if (kept == 0) {
            jdbc.sql("insert into ledger_tile (farm, tile_level, tile_index, hashes) values (?, ?, ?, ?)")
                    .params(farm, level, index, hashes)
                    .update();
        }
    }
}
