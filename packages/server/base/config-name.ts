/** Name under which a configuration is found, in a shot's folder or in one above it. */
export const configName = "keyside.config.json";
