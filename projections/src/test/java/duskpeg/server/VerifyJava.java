package duskpeg.server;

import static org.assertj.core.api.Assertions.assertThat;

import java.io.ByteArrayOutputStream;
import java.io.PrintStream;
import java.lang.reflect.Method;
import java.net.URL;
import java.net.URLClassLoader;
import java.nio.charset.StandardCharsets;
import java.nio.file.Files;
import java.nio.file.Path;
import java.util.List;
import javax.tools.ToolProvider;

/** The program in a bundle, compiled with every warning on. */
final class VerifyJava {

    private final Method run;

    VerifyJava(Path folder, byte[] program) throws Exception {
        Path source = Files.write(folder.resolve("Verify.java"), program);
        assertThat(ToolProvider.getSystemJavaCompiler()
                        .run(null, null, null, "-Xlint:all", "-Werror", "-d", folder.toString(), source.toString()))
                .isZero();
        run = new URLClassLoader(new URL[] {folder.toUri().toURL()}, null)
                .loadClass("Verify")
                .getMethod("run", String[].class, PrintStream.class);
    }

    /** What it said, and with which status it ended. */
    record Said(int status, String words) {}

    Said run(List<String> arguments) throws ReflectiveOperationException {
        ByteArrayOutputStream printed = new ByteArrayOutputStream();
        int status = (int) run.invoke(
                null, arguments.toArray(String[]::new), new PrintStream(printed, true, StandardCharsets.UTF_8));
        return new Said(status, printed.toString(StandardCharsets.UTF_8));
    }
}
