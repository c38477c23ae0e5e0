package duskpeg.core.store;

import com.fasterxml.uuid.Generators;
import com.fasterxml.uuid.NoArgGenerator;
import org.axonframework.common.IdentifierFactory;

/**
 * The ids of events: UUIDs of version 7 (RFC 9562), which rise with time. Several tables are in order of them; with ids
 * of no order each new event would have another page of each written to the disk anew.
 */
public final class IdsInOrder extends IdentifierFactory {

    private final NoArgGenerator generator = Generators.timeBasedEpochGenerator();

    @Override
    public String generateIdentifier() {
        return generator.generate().toString();
    }
}
