package duskpeg.projections.signin;

import jakarta.servlet.http.HttpServletRequest;
import jakarta.servlet.http.HttpServletRequestWrapper;
import java.util.Collections;
import java.util.Enumeration;
import java.util.HashMap;
import java.util.Map;
import java.util.Set;
import org.jspecify.annotations.Nullable;

/** A request that says some things once, whatever else it says, and others not at all. */
final class Saying extends HttpServletRequestWrapper {

    private final Map<String, String[]> parameters;

    /**
     * @param said what it says once, by name
     * @param unsaid the names of what it does not say
     */
    Saying(HttpServletRequest request, Map<String, String> said, Set<String> unsaid) {
        super(request);
        Map<String, String[]> all = new HashMap<>(request.getParameterMap());
        said.forEach((name, value) -> all.put(name, new String[] {value}));
        all.keySet().removeAll(unsaid);
        this.parameters = Collections.unmodifiableMap(all);
    }

    @Override
    public @Nullable String getParameter(String name) {
        String[] values = parameters.get(name);
        return values == null ? null : values[0];
    }

    @Override
    public String @Nullable [] getParameterValues(String name) {
        String[] values = parameters.get(name);
        return values == null ? null : values.clone();
    }

    @Override
    public Map<String, String[]> getParameterMap() {
        return parameters;
    }

    @Override
    public Enumeration<String> getParameterNames() {
        return Collections.enumeration(parameters.keySet());
    }
}
