package duskpeg.projections.audit;

import java.io.IOException;
import org.jspecify.annotations.Nullable;
import org.springframework.http.HttpInputMessage;
import org.springframework.http.HttpOutputMessage;
import org.springframework.http.MediaType;
import org.springframework.http.converter.AbstractHttpMessageConverter;
import org.springframework.http.converter.HttpMessageNotReadableException;
import org.springframework.stereotype.Component;

/** Answers with a bundle: it is written while it is read, and then it is gone. */
@Component
class MadeConverter extends AbstractHttpMessageConverter<Made> {

    MadeConverter() {
        super(Made.ZIP);
    }

    @Override
    protected boolean supports(Class<?> type) {
        return type == Made.class;
    }

    @Override
    protected boolean canRead(@Nullable MediaType mediaType) {
        return false;
    }

    @Override
    protected Made readInternal(Class<? extends Made> type, HttpInputMessage input) {
        throw new HttpMessageNotReadableException("bundles are only given", input);
    }

    @Override
    protected Long getContentLength(Made bundle, @Nullable MediaType type) {
        return bundle.size();
    }

    @Override
    protected void writeInternal(Made bundle, HttpOutputMessage output) throws IOException {
        try (bundle) {
            bundle.writeTo(output.getBody());
        }
    }
}
