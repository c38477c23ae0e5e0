package duskpeg.core.store;

import java.lang.reflect.InvocationTargetException;
import java.lang.reflect.Proxy;
import java.sql.Connection;
import java.sql.SQLException;
import java.util.concurrent.atomic.AtomicBoolean;
import javax.sql.DataSource;
import org.springframework.jdbc.datasource.DelegatingDataSource;

/**
 * Connections for a library that has transactions of its own: each is handed out when no transaction runs, and none
 * begins until it is closed. Whoever holds one must not wait for a transaction of another thread.
 */
final class InTurn extends DelegatingDataSource {

    private final OneWriter writer;

    InTurn(DataSource dataSource, OneWriter writer) {
        super(dataSource);
        this.writer = writer;
    }

    @Override
    public Connection getConnection() throws SQLException {
        writer.begin();
        try {
            return inTurn(super.getConnection());
        } catch (SQLException | RuntimeException e) {
            writer.end();
            throw e;
        }
    }

    private Connection inTurn(Connection connection) {
        AtomicBoolean open = new AtomicBoolean(true);
        return (Connection) Proxy.newProxyInstance(
                InTurn.class.getClassLoader(), new Class<?>[] {Connection.class}, (proxy, method, arguments) -> {
                    try {
                        return method.invoke(connection, arguments);
                    } catch (InvocationTargetException e) {
                        throw e.getCause();
                    } finally {
                        if (method.getName().equals("close") && open.getAndSet(false)) {
                            writer.end();
                        }
                    }
                });
    }
}
