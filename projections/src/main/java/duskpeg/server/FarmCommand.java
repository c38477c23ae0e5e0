package duskpeg.server;

import duskpeg.projections.signin.FirstOwner;
import java.io.IOException;
import java.io.PrintStream;
import java.nio.file.Files;
import java.nio.file.Path;
import java.util.List;
import java.util.stream.Stream;
import org.springframework.boot.builder.SpringApplicationBuilder;
import org.springframework.context.ConfigurableApplicationContext;
import org.springframework.core.io.FileSystemResource;

/**
 * The command {@code farm}: enters one more farm from its file, or gives one that there is the numbers that its file
 * names. On PostgreSQL servers may go on meanwhile; they know the farm at once.
 */
final class FarmCommand {

    private static final String FIRST = "--duskpeg.farm-file";

    private FarmCommand() {}

    /**
     * @param arguments {@code farm}, the file, and the server's settings
     * @return 0 if done, 1 if refused, 2 if asked for wrongly
     */
    static int run(SpringApplicationBuilder server, List<String> arguments, PrintStream out) {
        if (arguments.size() < 2 || !Files.isReadable(Path.of(arguments.get(1)))) {
            out.println("farm FILE: enters the farm that the file describes, in the form of demo-farm.json");
            return 2;
        }
        Path file = Path.of(arguments.get(1));
        // In an empty database it is the first farm, and no other is made for it.
        String[] settings = Stream.concat(
                        arguments.stream().skip(2).filter(one -> !one.startsWith(FIRST)),
                        Stream.of(FIRST + "=" + file.toUri()))
                .toArray(String[]::new);
        return Duskpeg.alone(server, settings, context -> enter(context, file, out));
    }

    private static int enter(ConfigurableApplicationContext context, Path file, PrintStream out) {
        try {
            FarmFile.Done done = context.getBean(FarmFile.class).enter(new FileSystemResource(file));
            out.println((done.entered() ? "Entered: " : "It is there: ") + done.farm() + ", "
                    + (done.numbers().isEmpty()
                            ? "without a number of its own"
                            : "texted and called at " + String.join(", ", done.numbers())));
            context.getBeanProvider(FirstOwner.class).ifAvailable(owner -> owner.printCode(done.farm()));
            return 0;
        } catch (IOException | IllegalArgumentException e) {
            out.println("Nothing is entered: " + e.getMessage());
            return 1;
        }
    }
}
